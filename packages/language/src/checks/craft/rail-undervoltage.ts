/** A load sees less than it needs. */
import { assessPlainly } from '../../analysis/assess.ts';
import type { LoadResults } from '../../analysis/assessment.ts';
import { withHoldingRail, withoutLoad } from '../../analysis/decide/changed-craft.ts';
import { ends, type Measurable, measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { RailUse } from '../../model/build.ts';
import { type Severity, worstFirst } from '../../vocabulary/severities.ts';
import { type Check, type Draft, fixesOf, type OptionSubject } from '../check.ts';
import type { Fix, RelatedPlace } from '../finding.ts';
import { gradeBelow, withLeeway } from '../grade.ts';
import { boundNumber, formatExact, number, percent } from '../shared/finding-numbers.ts';
import { supplierOf, supplyName } from '../shared/supply.ts';
import { THRESHOLDS } from '../thresholds.ts';

const leeway = THRESHOLDS.leeway.sag;

export const railUndervoltage: Check = {
  id: 'rail-undervoltage',
  option: findUndervoltage,
  folds: ['regulator-dropout', 'rail-overcurrent'],
  page: {
    title: 'A load browns out',
    cause:
      'Below its minimum voltage a camera, receiver or video transmitter restarts. Straight off the pack, or behind a step-down that has run out of input, it sees every dip of a burst, worst near the end of the pack: the picture goes exactly when full power is demanded.',
    criterion: `supply at the load before the reserve is reached: in hover below its minimum error, in a burst warning, at full duty only information; past it by less than ${percent(leeway)} of the ±, other than in hover: an open question.`,
    standing: 'The part maker’s minimum; which point counts how much: ours.',
    remedy:
      'Move the load to a rail that stays above that minimum, use a pack with one more cell, or land at the voltage that the message states.',
    fixes: ['computed'],
    fails: `load HungryCam like LinkCam {
  supply: 14.6 V .. 26 V
}
build BrowningOut like Healthy {
  without: LinkCam
  load: HungryCam from pack
}`,
    passes: `build Steady like Healthy {
  without: LinkCam
  load: LinkCam from Board28.camera
}`,
  },
};

function* findUndervoltage(subject: OptionSubject): Iterable<Draft> {
  const { build, option, assessment } = subject;
  const onFailingRails = new Map<number, Draft[]>();
  for (const [index, results] of assessment.loads.entries()) {
    const draft = shortOfSupply(subject, results);
    if (!draft) continue;
    const rail = failingRail(subject, results);
    if (rail === undefined) yield { ...draft, cured: () => assessPlainly(build, option, withoutLoad(index)) };
    else onFailingRails.set(rail, [...(onFailingRails.get(rail) ?? []), draft]);
  }
  for (const [rail, drafts] of onFailingRails)
    yield { ...together(drafts), cured: () => assessPlainly(build, option, withHoldingRail(rail)) };
}

/** The rail, by its index, that does not keep its nominal output, where the load would run on that. */
function failingRail({ assessment }: OptionSubject, { load }: LoadResults): number | undefined {
  const { from } = load;
  const supply = load.part.range('supply');
  if (!('rail' in from) || !supply) return undefined;
  const index = assessment.rails.findIndex(({ rail, dropsOut }) => {
    const output = rail.part.figure('output');
    return rail === from.rail && dropsOut && output !== undefined && output.value >= supply.low;
  });
  return index === -1 ? undefined : index;
}

/** One rail fails, one message: the load that is worst off is reported, and names the others. */
function together(drafts: readonly Draft[]): Draft {
  const decided = drafts.filter(({ severity }) => severity !== 'undecided');
  const [worst, ...others] = (decided.length > 0 ? decided : drafts).toSorted(worstFirst);
  if (!worst) throw new Error('nothing to report');
  return {
    ...worst,
    related: [
      ...(worst.related ?? []),
      ...others.map(({ message, question, place }) => ({ message: `also: ${message || question}`, place })),
    ],
    fixes: () => [worst, ...others].flatMap(fixesOf),
  };
}

function shortOfSupply({ build, option, assessment }: OptionSubject, results: LoadResults): Draft | undefined {
  const { load } = results;
  const supply = load.part.range('supply');
  if (!supply) return undefined;
  const needs = formatExact(supply.low, 'V');
  const from = supplyName(load.from, option);
  const supplier = supplierOf(load.from, option);
  const points = [
    { words: 'in hover', of: 'hoverVoltage', severity: 'error', firstAt: 'hoverBrownOut' },
    { words: 'in a burst', of: 'burstVoltage', severity: 'warning', firstAt: 'burstBrownOut' },
    { words: 'at full duty', of: 'fullVoltage', severity: 'information', firstAt: undefined },
  ] as const;
  let undecided: Draft | undefined;
  for (const { words, of, severity, firstAt } of points) {
    const voltage = results[of];
    const reached = voltage && gradeLow(measurable(voltage), supply.low, severity);
    if (!voltage || !reached) continue;
    const numbers = [number('voltage', voltage, 'V'), boundNumber('minimum', supply.low, 'V')];
    if (reached === 'undecided') {
      undecided ??= {
        severity: 'undecided',
        message: '',
        question: `whether ${load.name} keeps its ${needs} ${words} at the reserve (${formatEstimate(voltage, 'V')} ${from})`,
        names: [load, supplier],
        place: load.place,
        numbers,
      };
      continue;
    }
    const message = () => {
      const landBy = words === 'in a burst' ? results.landByHoverVoltage : undefined;
      const reading = landBy ? ` Land when a cell reads ${formatEstimate(landBy, 'V')} in hover.` : '';
      const sure = ends(voltage).high < supply.low;
      const first = firstAt && results[firstAt];
      const since = first ? ` from ${percent(first.value)} charge down` : '';
      return `${load.name} needs ${needs} and sees ${formatEstimate(voltage, 'V')} ${words} at the reserve, ${from}: it ${sure ? 'browns out' : 'likely browns out'}${since}.${reading}${railAdvice(assessment.rails, results)}`;
    };
    return {
      severity: reached,
      get message() {
        return message();
      },
      names: [load, supplier, ...advisedRail(assessment.rails, results)],
      place: load.place,
      ...('rail' in load.from && { foldKey: load.from.rail.name }),
      numbers,
      related: [
        { message: `${load.part.name} needs ${needs}`, place: supply.place },
        ...packLine(option.place, option.name),
      ],
      fixes: () => railFixes(build, assessment.rails, results),
    };
  }
  return undecided;
}

function gradeLow(voltage: Measurable, limit: number, severity: Severity): Severity | 'undecided' | undefined {
  const grade = gradeBelow(voltage, [{ past: limit, severity }]);
  // Hover sags little.
  return severity === 'error' ? grade : withLeeway(voltage, limit, leeway, grade);
}

const packLine = (place: RelatedPlace['place'], name: string): RelatedPlace[] => [{ message: `on ${name}`, place }];

type RailList = OptionSubject['assessment']['rails'];

/** Rails of this build that would serve the load: output inside its range, and holding in a burst. */
function servingRails(rails: RailList, { load }: LoadResults): RailList {
  const supply = load.part.range('supply');
  if (!supply) return [];
  return rails.filter(({ rail, dropsOut }) => {
    const output = rail.part.figure('output');
    const current = 'rail' in load.from ? load.from.rail.name : undefined;
    return output && !dropsOut && rail.name !== current && output.value >= supply.low && output.value <= supply.high;
  });
}

function railAdvice(rails: RailList, results: LoadResults): string {
  const [rail] = advisedRail(rails, results);
  return rail ? ` ${rail.name} would stay above it.` : '';
}

const advisedRail = (rails: RailList, results: LoadResults): RailUse[] =>
  servingRails(rails, results)
    .map(({ rail }) => rail)
    .slice(0, 1);

function railFixes(build: OptionSubject['build'], rails: RailList, results: LoadResults): Fix[] {
  const { fromPlace } = results.load;
  if (!fromPlace) return [];
  return servingRails(rails, results).flatMap(({ rail }) =>
    rail.place.uri === undefined
      ? []
      : [
          {
            title: `Feed ${results.load.name} from ${addressOf(build, rail)}`,
            trial: { feeds: fromPlace, rail: rail.name },
            edits: [{ place: fromPlace, newText: `from ${addressOf(build, rail)}` }],
          },
        ],
  );
}

/** How a build's line names a rail: `Board35.video`, `Top.video`, `CamPower`. */
function addressOf(build: OptionSubject['build'], { name, part }: RailUse): string {
  const isBare = part.kind === 'rail' && name === part.name;
  const board = isBare ? build.escs.find((esc) => esc.part.rails.some((rail) => rail === part)) : undefined;
  return board ? `${board.name}.${name}` : name;
}
