/** More current out of the pack than its cells give without suffering. */
import type { Estimate } from '../../analysis/assessment.ts';
import { packsInParallel } from '../../analysis/setup/craft-setup.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove, type Measurable, withLeeway } from '../grade.ts';
import { dutyFix, overcurrentDraft, ratingAbove } from '../shared/overcurrent.ts';
import { packState } from '../shared/pack-state.ts';
import { packRating } from '../shared/ratings.ts';
import { exactNumber, measurable, number, percent, relativeTo, say, sayExact } from '../shared/say.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { burstSag, averageRate } = THRESHOLDS.packOvercurrent;
const leeway = THRESHOLDS.leeway.sag;
const HOUR = 3600;

export const packOvercurrent: Check = {
  id: 'pack-overcurrent',
  option: findOvercurrent,
  page: {
    title: 'More current out of the pack than its cells give without suffering',
    cause:
      'A cell that is drawn too hard sags, heats and swells, and a swollen pack burns. The rate on a lipo label is optimistic: what counts is how far a burst pulls the cells down, and how hot the average makes them. A li-ion cell’s rating can be taken literally.',
    criterion: `lipo: a burst pulls a cell of the fresh, warm pack down by more than ${burstSag} V (by less than ${percent(leeway)} of the ±: an open question), or the flight as flown averages more than ${averageRate}C: warning; only past the label’s rate: information. Li-ion: a burst above the cells’ rating: warning.`,
    standing: 'Thresholds: ours.',
    remedy: 'Limit the duty, take a larger or fresher pack, or two in parallel. Never fly a swollen one.',
    fails: `pack Round2000_4S {
  chemistry: liion
  cells: 4S
  capacity: 2000 mAh
  discharge: 7 A
  cell_resistance: 20 mohm measured
  mass: 150 g
}
build Pressed like Healthy {
  without: LinkCam
  without: Mast900_4S
  pack: Round2000_4S
}`,
    passes: `build Fresh like Healthy {
  pack: Mast900_4S as Fresh
}`,
  },
};

function* findOvercurrent(subject: OptionSubject): Iterable<Draft> {
  const found = subject.option.part.word('chemistry') === 'liion' ? pastCellRating(subject) : pulledDown(subject);
  if (found) yield found;
}

function pastCellRating(subject: OptionSubject): Draft | undefined {
  const { option, assessment } = subject;
  const rating = packRating(option, 'burst') ?? packRating(option, 'discharge');
  const burst = burstCurrent(subject);
  if (!rating || !burst) return undefined;
  const severity = gradeAbove(relativeTo(burst, rating.limit), [{ past: 1, severity: 'warning' }]);
  if (!severity) return undefined;
  return overcurrentDraft(subject, {
    severity,
    value: burst,
    limit: rating.limit,
    part: option.part,
    figure: rating.figure,
    what: `In a burst ${option.name} gives`,
    rating: `the ${sayExact(rating.limit, 'A')} its cells are rated for`,
    consequence: 'Li-ion cells past their rating heat fast and are cut off or damaged.',
    fixes:
      severity === 'undecided' || !assessment.results.has('full_current')
        ? []
        : dutyFix(
            subject,
            rating.limit,
            (tried) => tried.results.get('burst_current')?.estimate,
            `${option.name} then stays within ${sayExact(rating.limit, 'A')}`,
            `take a pack whose cells are rated for ${ratingAbove(burst.value, 'A')} or more`,
          ),
  });
}

function pulledDown(subject: OptionSubject): Draft | undefined {
  const { option, assessment } = subject;
  const sag = assessment.pack.burstCellSag;
  const burst = burstCurrent(subject);
  const deep = sag && gradeSag(measurable(sag));
  if (sag && burst && deep && deep !== 'undecided') {
    return {
      severity: deep,
      message: `A burst of ${say(burst, 'A')} pulls each cell of ${option.name} down by ${say(sag, 'V')}, ${packState(option)}. Such a pack heats, swells and does not last: limit the duty or take one with less resistance.`,
      place: option.dutyPlace ?? option.place,
      numbers: [number('current', burst, 'A'), number('cell_sag', sag, 'V'), exactNumber('limit', burstSag, 'V')],
      fixes: dutyFix(
        subject,
        burstSag,
        (tried) => tried.pack.burstCellSag,
        `a burst then pulls a cell down by less than ${burstSag} V`,
      ),
    };
  }

  const capacity = option.part.figure('capacity');
  const average = assessment.pack.mixCurrent;
  const averageLimit = capacity && (averageRate * capacity.value * packsInParallel(option)) / HOUR;
  const continuous =
    average && averageLimit && gradeAbove(relativeTo(average, averageLimit), [{ past: 1, severity: 'warning' }]);
  if (average && averageLimit && continuous && continuous !== 'undecided') {
    return overcurrentDraft(subject, {
      severity: continuous,
      value: average,
      limit: averageLimit,
      part: option.part,
      figure: capacity,
      what: `Over the flight as flown ${option.name} gives`,
      rating: `${averageRate}C (${sayExact(averageLimit, 'A')})`,
      consequence: 'It comes down hot; a larger pack lasts longer in both senses.',
      fixes: [],
    });
  }

  const label = packRating(option, 'burst') ?? packRating(option, 'discharge');
  if (label && burst && gradeAbove(relativeTo(burst, label.limit), [{ past: 1, severity: 'error' }]) === 'error') {
    return overcurrentDraft(subject, {
      severity: 'information',
      value: burst,
      limit: label.limit,
      part: option.part,
      figure: label.figure,
      what: `In a burst ${option.name} gives`,
      rating: `the ${sayExact(label.limit, 'A')} on its label`,
      consequence: `The cells sag less than ${burstSag} V all the same.`,
      fixes: [],
    });
  }
  return deep === 'undecided' && sag && burst
    ? {
        severity: 'undecided',
        message: '',
        question: `whether a burst of ${say(burst, 'A')} pulls a cell of ${option.name} down by more than ${burstSag} V (${say(sag, 'V')})`,
        place: option.place,
        numbers: [number('current', burst, 'A')],
      }
    : undefined;
}

const gradeSag = (sag: Measurable) =>
  withLeeway(sag, burstSag, leeway, gradeAbove(sag, [{ past: burstSag, severity: 'warning' }]));

const burstCurrent = ({ assessment }: OptionSubject): Estimate | undefined =>
  assessment.results.get('burst_current')?.estimate;
