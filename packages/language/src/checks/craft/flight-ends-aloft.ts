/** A flight in legs that climbs and does not come down: what the way down takes is in none of its figures. */
import type { Flight, Leg } from '../../model/build.ts';
import { formatValue } from '../../units/print.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { exactNumber, formatExact, percent } from '../shared/finding-numbers.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { height: leastHeight, share: leastShare } = THRESHOLDS.endsAloft;

export const flightEndsAloft: Check = {
  id: 'flight-ends-aloft',
  atMost: 'information',
  option: findAloft,
  page: {
    title: 'A flight climbs and does not come down',
    cause:
      'The legs of a flight climb further than they descend. Coming down takes about as much power as hovering; while no leg states it, the charge that is left at the end is less than computed by that.',
    criterion: `climbs less descents above ${leastHeight} m and above ${percent(leastShare)} of the climbs: information. A flight that begins high and ends low is not reported.`,
    standing: 'Thresholds: ours. From a lower height landing is a matter of seconds.',
    remedy: 'Add a descent. If it lands up there, accept the finding and state so.',
    fixes: ['computed'],
    fails: `flight Up {
  leg: 40 m climb at 2 m/s
}
build Climber like Healthy {
  flight: Up
}`,
    passes: `flight UpAndDown {
  leg: 40 m climb at 2 m/s
  leg: 35 m descent at 1.5 m/s
}
build Returner like Healthy {
  flight: UpAndDown
}`,
  },
};

/** m/s: slow enough for most rotors to stay ahead of their wake. */
const USUAL_DESCENT = 2;

const CLIMBING: Readonly<Partial<Record<Leg['manner'], 1 | -1>>> = { climb: 1, descent: -1 };

/** m, of legs in one direction. */
function heightOf(legs: readonly Leg[], direction: 1 | -1): number {
  const ways = legs.filter(({ manner }) => CLIMBING[manner] === direction);
  return ways.reduce((sum, { distance, time = 0, speed = 0 }) => sum + (distance ?? time * speed), 0);
}

function* findAloft({ option, assessment }: OptionSubject): Iterable<Draft> {
  for (const { flight, flown } of assessment.flights) {
    const climbed = heightOf(flight.legs, 1);
    const height = climbed - heightOf(flight.legs, -1);
    const last = flight.legs.at(-1);
    if (!last || flown?.unflyable || height <= Math.max(leastHeight, leastShare * climbed)) continue;
    const speed = descentOf(flight);
    const current = assessment.results.get('hover_current')?.estimate.value;
    const charge =
      current === undefined ? '' : `, and some ${formatValue((current * height) / speed, 'mAh', 2)} on ${option.name}`;
    const leg = descend(flight, height, speed);
    yield {
      severity: 'information',
      message: `${flight.name} ends ${formatExact(height, 'm')} higher than it began: no leg comes down from there. That takes some ${formatValue(height / speed, 's', 2)} at ${formatExact(speed, 'm/s')}${charge}, which its figures do not include.`,
      names: current === undefined ? [] : [option],
      place: flight.place,
      numbers: [exactNumber('height', height, 'm')],
      related: flight.legs
        .filter(({ manner }) => manner === 'climb')
        .map(({ text, place }) => ({ message: `climbs: ${text}`, place })),
      fixes: [
        {
          title: `Add leg: ${leg.text}`,
          trial: { flight: flight.name, leg },
          edits: [{ place: { ...last.place, start: last.place.end }, newText: `\n  leg: ${leg.text}` }],
        },
      ],
    };
  }
}

/** As fast as the flight descends elsewhere; no faster than it climbs. */
function descentOf({ legs }: Flight): number {
  const speeds = (wanted: Leg['manner']) =>
    legs.flatMap(({ manner, speed }) => (manner === wanted && speed !== undefined ? [speed] : []));
  return Math.min(USUAL_DESCENT, ...(speeds('descent').length > 0 ? speeds('descent') : speeds('climb')));
}

function descend({ place }: Flight, height: number, speed: number): Leg {
  const distance = Math.round(height);
  return {
    manner: 'descent',
    distance,
    speed,
    wind: 0,
    text: `${distance} m descent at ${formatExact(speed, 'm/s')}`,
    place,
  };
}
