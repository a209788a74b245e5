/** Cells pulled so low under load that they suffer, or that electronics brown out. */
import { assessPlainly } from '../../analysis/assess.ts';
import type { Assessment, Estimate } from '../../analysis/assessment.ts';
import { withCellResistance } from '../../analysis/decide/changed-craft.ts';
import { type Measurable, measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { isImpossible } from '../../physics/craft.ts';
import { plusMinusOf } from '../../units/interval.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import { gradeBelow } from '../grade.ts';
import { strengthOf } from '../shared/contributing.ts';
import { boundNumber, exactNumber, formatExact, number, percent } from '../shared/finding-numbers.ts';
import { dutyFix } from '../shared/overcurrent.ts';
import {
  floorSentence,
  floorWords,
  fullCellVoltageOf,
  gradeVoltage,
  keepsPack,
  onSoundCells,
  SOUND,
  sagLimits,
} from '../shared/pack-full-duty.ts';
import { packState } from '../shared/pack-state.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { lithiumPolymer, lithiumIon, farBelowFloor } = THRESHOLDS.packOversag;
const leeway = THRESHOLDS.leeway.sag;

export const packOversag: Check = {
  id: 'pack-oversag',
  option: findOversag,
  folds: [
    'cannot-hover',
    'pack-overcurrent',
    'low-thrust',
    'high-hover-duty',
    'rail-undervoltage',
    'regulator-dropout',
  ],
  page: {
    title: 'The cell voltage falls too low under load',
    cause:
      'A cell pulled far below its resting voltage heats and ages, and every load on the pack sees the dip. Near the end of the flight the same current pulls the voltage lower.',
    criterion: `full duty on a fresh pack: lipo below ${lithiumPolymer.warning} V per cell warning, below ${lithiumPolymer.error} V error; li-ion ${lithiumIon.warning} and ${lithiumIon.error} V; a pack that cannot deliver it at any voltage like one below the error. Past a warning by less than ${percent(leeway)} of the ±: an open question in the note on estimates. Hover at the reserve below ${lithiumPolymer.hoverAtReserve} V (li-ion ${lithiumIon.hoverAtReserve} V): warning. Full duty at the reserve, with its whole ± below the volts at which a cell is empty, ${lithiumPolymer.floor.toFixed(1)} V (li-ion ${lithiumIon.floor} V): information; ${farBelowFloor} V below that: warning.`,
    standing:
      'Thresholds: ours; where a cell is empty: common practice, of round cells the cut-off of their data sheets.',
    remedy: 'Limit the duty, take a pack with less resistance, or land earlier.',
    fixes: ['computed'],
    fails: `pack Weak450_4S like Mast900_4S {
  capacity: 450 mAh
  cell_resistance: 34 mohm measured
}
build Dipping like Healthy {
  without: LinkCam
  without: Receiver
  without: Mast900_4S
  pack: Weak450_4S
}`,
    passes: `build Firm like Healthy {
  pack: Mast900_4S as Firm
}`,
  },
};

function* findOversag(subject: OptionSubject): Iterable<Draft> {
  const { build, option, assessment } = subject;
  const limits = sagLimits(option);
  const place = option.dutyPlace ?? option.place;

  const { full: point } = assessment.points;
  if (point && isImpossible(point)) {
    yield {
      severity: leastSagIsBelow(subject, limits.error, fullCellVoltageOf) ? 'error' : 'warning',
      message: `At full duty ${option.name} collapses: ${packState(option)} it is ${formatExact(point.shortfall, 'W')} short of what the motors and loads demand, and everything it supplies browns out. Limit the duty or take a pack with less resistance.`,
      names: [option],
      place,
      numbers: [exactNumber('shortfall', point.shortfall, 'W')],
      related: strengthOf(option.part),
    };
    return;
  }

  const full = fullCellVoltageOf(assessment);
  const atFull = gradeVoltage(subject);
  if (full && atFull) {
    yield {
      severity: atFull,
      question: `whether a cell of ${option.name} stays above ${formatExact(limits.warning, 'V')} at full duty (${formatEstimate(full, 'V')})`,
      message: `At full duty each cell of ${option.name} falls to ${formatEstimate(full, 'V')}, ${packState(option)}; below ${formatExact(limits.warning, 'V')} it suffers, and later in the flight it goes deeper.${floorSentence(subject)} Limit the duty or take a pack with less resistance.`,
      names: [option],
      place,
      numbers: [number('cell_voltage', full, 'V'), boundNumber('limit', limits.warning, 'V')],
      related: strengthOf(option.part),
      alike: ['pack-overcurrent'],
      cured: () => onSoundCells(subject),
      fixes: () => dutyFix(subject, keepsPack(subject), `a cell then stays above ${formatExact(limits.warning, 'V')}`),
    };
    if (atFull !== 'undecided') return;
  }

  const hover = assessment.pack.reserveHoverCellVoltage;
  const atReserve = hover && gradeBelow(measurable(hover), [{ past: limits.hoverAtReserve, severity: 'warning' }]);
  if (hover && atReserve) {
    yield {
      severity: atReserve,
      question: `whether a cell of ${option.name} stays above ${formatExact(limits.hoverAtReserve, 'V')} hovering at the reserve (${formatEstimate(hover, 'V')})`,
      message: `Hovering at the reserve each cell of ${option.name} reads ${formatEstimate(hover, 'V')}, below ${formatExact(limits.hoverAtReserve, 'V')}: it is then discharged further than is safe to fly. Land earlier or take a pack with less resistance.`,
      names: [option],
      place: option.place,
      numbers: [number('cell_voltage', hover, 'V'), boundNumber('limit', limits.hoverAtReserve, 'V')],
      related: strengthOf(option.part),
      // A craft too heavy to hover without this sag gets the finding about its weight.
      cured: () => assessPlainly(build, option, withCellResistance(SOUND)),
    };
    if (atReserve !== 'undecided') return;
  }
  yield* belowFloor(subject);
}

/** Nobody has to fly at full duty at the reserve: what is surely below the floor is worth knowing, far below it a warning. */
function* belowFloor(subject: OptionSubject): Iterable<Draft> {
  const { build, option, assessment } = subject;
  const { floor } = sagLimits(option);
  const point = assessment.points.fullAtReserve;
  const common = {
    names: [option],
    place: option.dutyPlace ?? option.place,
    related: strengthOf(option.part),
    cured: () => assessPlainly(build, option, withCellResistance(SOUND)),
  };
  if (point && isImpossible(point)) {
    yield {
      ...common,
      severity: leastSagIsBelow(subject, floor - farBelowFloor, reserveCellVoltage) ? 'warning' : 'undecided',
      question: `whether ${option.name} can supply full duty at the reserve at all`,
      message: `At full duty at the reserve ${option.name} collapses: it is ${formatExact(point.shortfall, 'W')} short of what the motors and loads demand, below ${floorWords(option)}. Limit the duty, land earlier or take a pack with less resistance.`,
      numbers: [exactNumber('shortfall', point.shortfall, 'W')],
    };
    return;
  }
  const loaded = reserveCellVoltage(assessment);
  const severity = loaded && gradeFloor(measurable(loaded), floor);
  if (!loaded || !severity) return;
  yield {
    ...common,
    severity,
    question: `whether at full duty at the reserve a cell of ${option.name} stays above ${floorWords(option)} (${formatEstimate(loaded, 'V')})`,
    message: `At full duty at the reserve each cell of ${option.name} falls to ${formatEstimate(loaded, 'V')}, below ${floorWords(option)}. Fly gently towards the end, limit the duty or take a pack with less resistance.`,
    numbers: [number('cell_voltage', loaded, 'V'), boundNumber('limit', floor, 'V')],
    fixes: () =>
      dutyFix(
        subject,
        (tried) => (reserveCellVoltage(tried)?.value ?? 0) >= floor,
        `a cell then stays above ${formatExact(floor, 'V')}`,
      ),
  };
}

function gradeFloor({ value, plusMinus }: Measurable, floor: number): Severity | 'undecided' | undefined {
  if (value + plusMinus < floor - farBelowFloor) return 'warning';
  if (value + plusMinus < floor) return 'information';
  return value < floor ? 'undecided' : undefined;
}

type CellVoltage = (assessment: Assessment) => Estimate | undefined;

const reserveCellVoltage: CellVoltage = ({ results }) => results.get('reserve_cell_voltage')?.estimate;

/** Even with the least resistance that its ± allows the cells fall past a limit. */
function leastSagIsBelow({ build, option }: OptionSubject, limit: number, of: CellVoltage): boolean {
  const resistance = option.part.figure('cell_resistance');
  if (!resistance) return false;
  const least = Math.max(0, 1 - plusMinusOf(resistance.standardUncertainty / resistance.value));
  const atBest = of(assessPlainly(build, option, withCellResistance(least)));
  return atBest === undefined || atBest.value < limit;
}
