/** Words that the sheet's formats share. */
import { formatPrinted, type PrintedEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Finding } from '../../checks/finding.ts';
import { formatValue, plainNumber } from '../../units/print.ts';
import { isWish as isAboutWish } from '../../vocabulary/findings.ts';
import { GLANCE_LABELS, HEADLINES, type Headline, worthShowing } from '../../vocabulary/headlines.ts';
import { plural, upperFirst } from '../../vocabulary/phrasing.ts';
import { SEVERITIES, type Severity } from '../../vocabulary/severities.ts';
import { countBySeverity } from '../checked.ts';
import { limitWords } from '../present/limit-words.ts';
import { severityWord } from '../present/report-words.ts';
import { calibratedWords } from '../present/taught-words.ts';
import type { LedgerLine, SheetData, SheetOption, SheetRow } from './sheet-data.ts';
import type { LimitLine } from './sheet-limits.ts';

export const ledgerText = ({ count, mass }: LedgerLine): string =>
  `${count > 1 ? `${count} ×, ` : ''}${formatPrinted(mass)}`;

/** To be set as printed: never rounded up. */
export const formatDuty = (share: number): string => `${plainNumber(Number((100 * share).toPrecision(9)))} %`;

/** "M1606, burst rating" */
export const limitName = ({ subject, part }: LimitLine): string => limitWords(subject, part);

/** "Nave850_3S, duty 90 %" */
export const optionName = ({ packWords, dutyLimit }: Pick<SheetOption, 'packWords' | 'dutyLimit'>): string =>
  dutyLimit < 1 ? `${packWords}, duty ${formatDuty(dutyLimit)}` : packWords;

/** "8.9 ± 0.4 A of 15 A", "13.2 ± 0.3 V of at least 14 V" */
export const limitText = ({ flows, allowed, isLeast }: LimitLine): string =>
  `${formatPrinted(flows)} of ${isLeast ? 'at least ' : ''}${formatValue(allowed, flows.unit)}`;

interface GlanceFigure {
  readonly name: Headline<'glance'>;
  readonly label: string;
  readonly end: 'lower' | 'upper';
  readonly value: PrintedEstimate | undefined;
}

/** The end of its ± that is safe to fly by. */
const SAFE_END: Readonly<Record<Headline<'glance'>, GlanceFigure['end']>> = {
  hover_time: 'lower',
  flight_time: 'lower',
  thrust_to_weight: 'lower',
  land_by_hover_voltage: 'upper',
  all_up_weight: 'upper',
};

/** What one wants to know of a pack first. */
export function glanceFigures({ hoverTime, flightTime, thrustToWeight, landBy, weight }: SheetOption): GlanceFigure[] {
  const values: Readonly<Record<Headline<'glance'>, PrintedEstimate | undefined>> = {
    hover_time: hoverTime,
    flight_time: flightTime,
    thrust_to_weight: thrustToWeight,
    land_by_hover_voltage: landBy,
    all_up_weight: weight,
  };
  const superseded = flightTime === undefined ? 'flight_time' : 'hover_time';
  return HEADLINES.glance
    .filter((name) => name !== superseded)
    .map((name) => ({ name, label: GLANCE_LABELS[name], end: SAFE_END[name], value: values[name] }));
}

export const GLANCE_NOTE =
  'Large: the end of the ± that is safe to fly by. Next to it the most likely value with its ±.';

export interface SheetVerdict {
  readonly worry: 'error' | 'warning' | 'clear';
  readonly sentence: string;
}

/** @param unjudged why it could not be judged in full: then nothing is shown to be in order */
export function sheetVerdictOf(findings: readonly Finding[], unjudged?: string): SheetVerdict {
  if (unjudged !== undefined) return { worry: 'error', sentence: `Not judged in full: ${unjudged}` };
  const open = findings.filter(({ accepted }) => accepted === undefined);
  const counts = countBySeverity(open);
  const printed = SEVERITIES.flatMap((severity) => {
    const count = counts.get(severity) ?? 0;
    return count > 0 ? [plural(count, severityWord(severity))] : [];
  });
  const accepted = findings.length - open.length;
  if (accepted > 0) printed.push(`${accepted} accepted`);
  const extent = printed.join(', ');
  const worry = worryAbout(open);
  if (worry !== undefined)
    return { worry: (counts.get('error') ?? 0) > 0 ? 'error' : 'warning', sentence: `${worry}: ${extent}` };
  return { worry: 'clear', sentence: extent === '' ? 'Nothing found' : `No error and no warning; ${extent}` };
}

/** What to think of a craft with errors or warnings. A wish that is not met breaks nothing, and is reported as what it is. */
export function worryAbout(open: readonly Pick<Finding, 'id' | 'severity'>[]): string | undefined {
  const has = (worst: Severity, isWish: boolean) =>
    open.some(({ id, severity }) => severity === worst && isAboutWish(id) === isWish);
  if (has('error', false)) return 'Not fit to fly';
  if (has('error', true))
    return has('warning', false) ? 'Misses a requirement; check before flying' : 'Misses a requirement';
  if (has('warning', false)) return 'Check before flying';
  return has('warning', true) ? 'Likely misses a requirement' : undefined;
}

export function rowsByProminence({ options, rows }: SheetData): { first: SheetRow[]; others: SheetRow[] } {
  const prominent: ReadonlySet<string> = new Set([
    ...worthShowing(HEADLINES.columns, options),
    ...HEADLINES.sheetAtOnce,
    ...(options.some(({ flightTime }) => flightTime !== undefined) ? ['flight_time'] : []),
  ]);
  return {
    first: rows.filter(({ name }) => prominent.has(name)),
    others: rows.filter(({ name }) => !prominent.has(name)),
  };
}

/** What the sections of a sheet answer, by their ids. */
export const QUESTION = {
  findings: 'What was found?',
  fly: 'How does it fly, on each pack?',
  land: 'When must it land?',
  legs: 'What does each flight take?',
  limits: 'How near are the limits?',
  weight: 'What does it weigh?',
  sizes: 'What if the pack were larger or smaller?',
  shake: 'Will the picture shake?',
  compared: 'How did it compare?',
  asked: 'Does it meet its requirements?',
  surer: 'Which measurement helps most?',
} as const;

export const LEDGER_NOTE =
  'What is not weighed is estimated. Put the craft on the scale, ready to fly, and write what it reads into an observed block: “scale: …”.';

export const LAND_NOTE =
  'Volts per cell at the board; values are shown without their ±. Below “land” is the reserve, or a brown-out in a burst.';

export const LOG_NOTE =
  'The model’s voltage is that of the pack under the current that was logged, with what was learnt from all measurements.';

export const SIZE_NOTE =
  'Packs of the same make in other sizes: capacity grows with mass, resistance shrinks. The whisker is the ± of today’s pack.';

/** How much heavier the pack may be, or by how much it is too heavy. */
export const gramsLeftText = (left: PrintedEstimate): string =>
  left.value < 0
    ? `the pack is ${formatPrinted({ ...left, value: -left.value })} too heavy for it`
    : `the pack may weigh ${formatPrinted(left)} more`;

export const SHAKE_NOTE =
  'Vibration once per revolution, through the softest mount. Hatched: from hover to full duty. Below 1 the mount damps the vibration, above 1 it amplifies it.';

export function measureWords({ calibration, aged, measureFirst }: SheetData): string | undefined {
  const calibrated = calibration && `${upperFirst(calibratedWords(calibration))}.`;
  const words = [calibrated, ...aged.map((one) => `${one}.`), measureFirst && adviceWords(measureFirst)].filter(
    Boolean,
  );
  return words.length > 0 ? words.join(' ') : undefined;
}

function adviceWords({ how, now, plusMinusThen }: NonNullable<SheetData['measureFirst']>): string {
  return `Measure first: ${how}. Minutes in hover, now ${formatPrinted(now)}, would then be known to ${formatPrinted({ ...now, plusMinus: plusMinusThen })}.`;
}
