/** Cells pulled so low under load that they suffer, or that electronics brown out. */
import { assessPlainly } from '../../analysis/assess.ts';
import type { Estimate } from '../../analysis/assessment.ts';
import { withCellResistance } from '../../analysis/decide/solve.ts';
import { COVERAGE } from '../../analysis/uncertainty/estimate.ts';
import type { PackOption } from '../../model/build.ts';
import { isImpossible } from '../../physics/craft.ts';
import type { Check, Draft, OptionSubject } from '../check.ts';
import type { Severity } from '../finding.ts';
import { gradeBelow, type Measurable, withLeeway } from '../grade.ts';
import { restingFullCell } from '../shared/cells.ts';
import { strengthOf } from '../shared/contributing.ts';
import { dutyFix } from '../shared/overcurrent.ts';
import { packState } from '../shared/pack-state.ts';
import { exactNumber, measurable, negativeOf, number, percent, say, sayExact } from '../shared/say.ts';
import { THRESHOLDS } from '../thresholds.ts';

const { lithiumPolymer, lithiumIon } = THRESHOLDS.packOversag;
const leeway = THRESHOLDS.leeway.sag;

export const packOversag: Check = {
  id: 'pack-oversag',
  option: findOversag,
  folds: ['pack-overcurrent', 'low-thrust', 'high-hover-duty', 'rail-undervoltage', 'regulator-dropout'],
  page: {
    title: 'The cells fall too low under load',
    cause:
      'A cell pulled far below its resting voltage heats and ages, and every load on the pack sees the dip. Near the end of the flight the same current pulls the voltage lower.',
    criterion: `full duty on a fresh pack: lipo below ${lithiumPolymer.warning} V per cell warning, below ${lithiumPolymer.error} V error; li-ion ${lithiumIon.warning} and ${lithiumIon.error} V; a pack that cannot deliver it at any voltage like one below the error. Past a warning by less than ${percent(leeway)} of the ±: an open question in the note on estimates. Hover at the reserve below ${lithiumPolymer.hoverAtReserve} V (li-ion ${lithiumIon.hoverAtReserve} V): warning.`,
    standing: 'Thresholds: ours.',
    remedy: 'Limit the duty, take a pack with less resistance, or land earlier.',
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
  const limits = option.part.word('chemistry') === 'liion' ? lithiumIon : lithiumPolymer;
  const place = option.dutyPlace ?? option.place;

  const { full: point } = assessment.points;
  if (point && isImpossible(point)) {
    yield {
      severity: collapsesForCertain(subject, limits.error) ? 'error' : 'warning',
      message: `At full duty ${option.name} collapses: ${packState(option)} it is ${sayExact(point.shortfall, 'W')} short of what the motors and loads demand, and everything it supplies browns out. Limit the duty or take a pack with less resistance.`,
      place,
      numbers: [exactNumber('shortfall', point.shortfall, 'W')],
      related: strengthOf(option.part),
    };
    return;
  }

  const full = assessment.results.get('full_cell_voltage')?.estimate;
  const atFull = full && gradeFull(measurable(full), limits);
  if (full && atFull) {
    yield {
      severity: atFull,
      question: `whether a cell of ${option.name} stays above ${sayExact(limits.warning, 'V')} at full duty (${say(full, 'V')})`,
      message: `At full duty each cell of ${option.name} falls to ${say(full, 'V')}, ${packState(option)}; below ${sayExact(limits.warning, 'V')} it suffers, and later in the flight it goes deeper. Limit the duty or take a pack with less resistance.`,
      place,
      numbers: [number('cell_voltage', full, 'V'), exactNumber('limit', limits.warning, 'V')],
      related: strengthOf(option.part),
      cured: () => assessPlainly(build, option, withCellResistance(soundShare(option, full.value, limits.warning))),
      fixes:
        atFull === 'undecided'
          ? []
          : dutyFix(
              subject,
              -limits.warning,
              (tried) => negativeOf(fullCellVoltage(tried.results)),
              `a cell then stays above ${sayExact(limits.warning, 'V')}`,
            ),
    };
    if (atFull !== 'undecided') return;
  }

  const hover = assessment.pack.reserveHoverCellVoltage;
  const atReserve = hover && gradeBelow(measurable(hover), [{ past: limits.hoverAtReserve, severity: 'warning' }]);
  if (hover && atReserve) {
    yield {
      severity: atReserve,
      question: `whether a cell of ${option.name} stays above ${sayExact(limits.hoverAtReserve, 'V')} hovering at the reserve (${say(hover, 'V')})`,
      message: `Hovering at the reserve each cell of ${option.name} reads ${say(hover, 'V')}, below ${sayExact(limits.hoverAtReserve, 'V')}: it is then discharged further than is safe to fly. Land earlier or take a pack with less resistance.`,
      place: option.place,
      numbers: [number('cell_voltage', hover, 'V'), exactNumber('limit', limits.hoverAtReserve, 'V')],
      related: strengthOf(option.part),
      // A craft too heavy to hover without this sag gets the finding about its weight.
      cured: () => assessPlainly(build, option, withCellResistance(SOUND)),
    };
  }
}

function gradeFull(
  full: Measurable,
  limits: typeof lithiumPolymer | typeof lithiumIon,
): Severity | 'undecided' | undefined {
  const grade = gradeBelow(full, [
    { past: limits.warning, severity: 'warning' },
    { past: limits.error, severity: 'error' },
  ]);
  return withLeeway(full, limits.warning, leeway, grade);
}

/** Even with the least resistance that its ± allows the cells fall past the limit. */
function collapsesForCertain({ build, option }: OptionSubject, limit: number): boolean {
  const resistance = option.part.figure('cell_resistance');
  if (!resistance) return false;
  const least = Math.max(0, 1 - (COVERAGE * resistance.standardUncertainty) / resistance.value);
  const atBest = fullCellVoltage(assessPlainly(build, option, withCellResistance(least)).results);
  return atBest === undefined || atBest.value < limit;
}

/** Nobody cures a weak pack with one that just holds: of the sag that is allowed, what a sound one shows. */
const SOUND = 0.5;

/** Of the cells' resistance, that of a sound pack; sag goes nearly as the resistance. */
function soundShare({ part }: PackOption, loaded: number, limit: number): number {
  const resting = restingFullCell(part);
  return (SOUND * (resting - limit)) / (resting - loaded);
}

const fullCellVoltage = (results: OptionSubject['assessment']['results']): Estimate | undefined =>
  results.get('full_cell_voltage')?.estimate;
