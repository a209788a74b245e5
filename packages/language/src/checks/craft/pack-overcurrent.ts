/** More current out of the pack than its cells deliver without damage. */
import type { Estimate } from '../../analysis/assessment.ts';
import { packsInParallel } from '../../analysis/setup/pack-setup.ts';
import { type Measurable, measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { worstFirst } from '../../vocabulary/severities.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeAbove, withLeeway } from '../grade.ts';
import { anotherPart } from '../shared/duty.ts';
import { boundNumber, formatExact, number, percent, relativeTo } from '../shared/finding-numbers.ts';
import { dutyFix, overcurrentDraft, ratingAbove, within } from '../shared/overcurrent.ts';
import { floorSentence, gradeCurrent, isRound, keepsPack, onSoundCells } from '../shared/pack-full-duty.ts';
import { packState } from '../shared/pack-state.ts';
import { burstPackRating, packRating } from '../shared/ratings.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { burstSag, averageRate, warning, error, burstOverContinuous } = THRESHOLDS.packOvercurrent;
const leeway = THRESHOLDS.leeway.sag;
const HOUR = 3600;

export const packOvercurrent: Check = {
  id: 'pack-overcurrent',
  option: findOvercurrent,
  folds: ['pack-oversag', 'low-thrust', 'rail-undervoltage', 'regulator-dropout'],
  page: {
    title: 'More current out of the pack than its cells deliver without damage',
    cause:
      'A cell that is drawn too hard sags, heats and swells, and a swollen pack burns. The rate on a lipo label is optimistic: what counts is how far a burst pulls the cells down, and how hot the average makes them. A li-ion cell’s rating can be taken literally.',
    criterion: `lipo: a burst pulls a cell of the fresh, warm pack down by more than ${burstSag} V (by less than ${percent(leeway)} of the ±: an open question), or the flight as flown averages more than ${averageRate}C: warning; only past the label’s rate: information. Li-ion: a burst above the rating for seconds, or the flight as flown above the continuous one: warning. Both: full duty over the burst rating (absent: ${burstOverContinuous} × \`discharge\`, of li-ion cells that state neither ${burstOverContinuous} × the rate estimated for them): above ${warning} warning, of li-ion above ${error} error; past the former by less than ${percent(leeway)} of the ±: an open question.`,
    standing: `Thresholds: ours. ${burstOverContinuous} × continuous for seconds, and the usual rate of li-ion cells: common practice.`,
    remedy: 'Limit the duty, take a larger or fresher pack, or two in parallel. Never fly a swollen one.',
    fixes: ['computed', 'another-part'],
    fails: `pack Round2000_4S {
  chemistry: liion
  cells: 4S
  capacity: 2000 mAh
  discharge: 9 A
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

/** The worst of what is found, once; what is open only where nothing is found. */
function* findOvercurrent(subject: OptionSubject): Iterable<Draft> {
  const found = (
    isRound(subject.option)
      ? [atFullDuty(subject), pastCellRating(subject), pastLasting(subject)]
      : [pulledDown(subject), atFullDuty(subject)]
  ).filter((draft) => draft !== undefined);
  const [worst] = found.toSorted(worstFirst);
  const decided = worst && worst.severity !== 'undecided' ? [worst] : found;
  // Only a stated rate has consequences: of a lipo that sags, the sag is reported.
  yield* decided.map((draft) => ({ cured: () => subject.assessment, ...draft }));
}

function atFullDuty(subject: OptionSubject): Draft | undefined {
  const { option } = subject;
  const graded = gradeCurrent(subject);
  if (!graded) return undefined;
  const { severity, current, rating } = graded;
  const harm = isRound(option)
    ? 'Li-ion cells past their rating heat fast and are cut off or damaged.'
    : 'It heats, swells and does not last.';
  const draft = overcurrentDraft(subject, {
    severity,
    value: current,
    limit: rating.limit,
    part: option.part,
    named: option,
    figure: rating.figure,
    what: `At full duty ${option.name} gives`,
    rating: rating.words(),
    consequence: `${harm}${floorSentence(subject)}`,
    fixes: () =>
      dutyFix(
        subject,
        keepsPack(subject),
        `${option.name} then stays within ${formatExact(rating.limit, 'A')}`,
        `take a pack that supplies ${ratingAbove(current.value, 'A')} for seconds`,
      ),
  });
  if (!isRound(option)) return draft;
  return { ...draft, alike: ['pack-oversag'], cured: () => onSoundCells(subject) };
}

function pastCellRating(subject: OptionSubject): Draft | undefined {
  const { option, assessment } = subject;
  const rating = burstPackRating(option);
  const burst = burstCurrent(subject);
  // What is estimated of cells is no reason to warn of bursts.
  if (!rating || rating.plusMinus > 0 || !burst) return undefined;
  const severity = gradeAbove(relativeTo(burst, rating.limit), [{ past: 1, severity: 'warning' }]);
  if (!severity) return undefined;
  return overcurrentDraft(subject, {
    severity,
    value: burst,
    limit: rating.limit,
    part: option.part,
    named: option,
    figure: rating.figure,
    what: `In a burst ${option.name} gives`,
    rating: rating.words(),
    consequence: 'Li-ion cells past their rating heat fast and are cut off or damaged.',
    fixes: assessment.results.has('full_current')
      ? () =>
          dutyFix(
            subject,
            within(rating.limit, (tried) => tried.results.get('burst_current')?.estimate),
            `${option.name} then stays within ${formatExact(rating.limit, 'A')}`,
            `take a pack that supplies ${ratingAbove(burst.value, 'A')} for seconds`,
          )
      : [],
  });
}

/** Of cells that state what they supply all flight long. */
function pastLasting(subject: OptionSubject): Draft | undefined {
  const { option, assessment } = subject;
  const rating = packRating(option, 'discharge');
  const average = assessment.pack.mixCurrent;
  const severity =
    rating && average && gradeAbove(relativeTo(average, rating.limit), [{ past: 1, severity: 'warning' }]);
  if (!severity) return undefined;
  return overcurrentDraft(subject, {
    severity,
    value: average,
    limit: rating.limit,
    part: option.part,
    named: option,
    figure: rating.figure,
    what: `Over the flight as flown ${option.name} gives`,
    rating: `its continuous rating of ${formatExact(rating.limit, 'A')}`,
    consequence: 'Li-ion cells past it get too hot within minutes.',
    fixes: [anotherPart(`take a pack rated for ${ratingAbove(average.value, 'A')} or more`)],
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
      message: `A burst of ${formatEstimate(burst, 'A')} pulls each cell of ${option.name} down by ${formatEstimate(sag, 'V')}, ${packState(option)}. Such a pack heats, swells and does not last: limit the duty or take one with less resistance.`,
      names: [option],
      place: option.dutyPlace ?? option.place,
      numbers: [number('current', burst, 'A'), number('cell_sag', sag, 'V'), boundNumber('limit', burstSag, 'V')],
      fixes: () =>
        dutyFix(
          subject,
          within(burstSag, (tried) => tried.pack.burstCellSag),
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
      named: option,
      figure: capacity,
      what: `Over the flight as flown ${option.name} gives`,
      rating: `${averageRate}C (${formatExact(averageLimit, 'A')})`,
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
      named: option,
      figure: label.figure,
      what: `In a burst ${option.name} gives`,
      rating: `the ${formatExact(label.limit, 'A')} on its label`,
      consequence: `The cells sag less than ${burstSag} V all the same.`,
      fixes: [],
    });
  }
  return deep === 'undecided' && sag && burst
    ? {
        severity: 'undecided',
        message: '',
        question: `whether a burst of ${formatEstimate(burst, 'A')} pulls a cell of ${option.name} down by more than ${burstSag} V (${formatEstimate(sag, 'V')})`,
        names: [option],
        place: option.place,
        numbers: [number('current', burst, 'A')],
      }
    : undefined;
}

const gradeSag = (sag: Measurable) =>
  withLeeway(sag, burstSag, leeway, gradeAbove(sag, [{ past: burstSag, severity: 'warning' }]));

const burstCurrent = ({ assessment }: OptionSubject): Estimate | undefined =>
  assessment.results.get('burst_current')?.estimate;
