/** Writes the reference pages from the tables they document: findings, kinds and properties, results. */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { EmptyFileSystem, URI } from 'langium';
import { assess } from './src/analysis/assess.ts';
import type { Assessment } from './src/analysis/assessment.ts';
import { SEARCHES } from './src/analysis/explain/derivation.ts';
import { MODEL_LIMITS } from './src/analysis/explain/model-limits.ts';
import { GROWTH_PER_YEAR } from './src/analysis/learn/ageing.ts';
import { INSTRUMENTS, READINGS } from './src/analysis/learn/flight-readings.ts';
import { ROUNDS } from './src/analysis/learn/gauss-newton.ts';
import { QUICK } from './src/analysis/learn/log-predictions.ts';
import { LOG_READINGS } from './src/analysis/learn/log-readings.ts';
import { ALIKE_IN_WARMTH, CHARGE_TOLD, SLOW_SAG } from './src/analysis/learn/observed-lines.ts';
import { IMPLAUSIBLE } from './src/analysis/learn/set-aside.ts';
import { STAND_READINGS, STAND_SCALES } from './src/analysis/learn/stand-lines.ts';
import { FARTHER } from './src/analysis/learn/taught.ts';
import { explanationOf } from './src/analysis/results/all-results.ts';
import { AMPLITUDE } from './src/analysis/setup/course.ts';
import { COVERAGE } from './src/analysis/uncertainty/estimate.ts';
import type { Page } from './src/checks/check.ts';
import { EXAMPLE_CRAFT } from './src/checks/example-craft.ts';
import { PAGES } from './src/checks/registry.ts';
import { readDocument } from './src/checks/text/read-document.ts';
import type { File } from './src/grammar/generated/ast.ts';
import { KNOTS } from './src/physics/coefficient-course.ts';
import { COLUMNS, LOG_COLUMNS } from './src/vocabulary/columns.ts';
import { BLOCK_KINDS, schemaOf } from './src/vocabulary/properties.ts';
import { RESULTS, resultOf } from './src/vocabulary/results.ts';
import { alongLike, type BlockKind, type Property } from './src/vocabulary/schema.ts';
import { homesOf, SYNONYMS } from './src/vocabulary/synonyms.ts';
import { createFettleServices } from './src/workspace/services.ts';

const MEASURED: Readonly<Record<string, string>> = {
  page: 'nothing: figures of data sheets',
  scale: 'scale',
  charger: 'scale, charger',
  burst: 'scale, charger, burst',
  hover: 'scale, charger, burst, hover',
  count: 'the same and the recorder’s count',
  log: 'scale, log of a flight',
  rows: 'scale, three rows of a stand',
  all: 'all of these',
  doubled: 'all of these, the other model twice as far off',
};

const out = join(import.meta.dirname, 'reference');
/** Pages that people write. */
const HAND_WRITTEN: readonly string[] = [
  'choosing.md',
  'decisions.schema.json',
  'editor.md',
  'editors.md',
  'flights.md',
  'library.md',
  'protocol.md',
];
mkdirSync(out, { recursive: true });
for (const entry of readdirSync(out)) if (!HAND_WRITTEN.includes(entry)) rmSync(join(out, entry), { recursive: true });
mkdirSync(join(out, 'findings'), { recursive: true });
mkdirSync(join(out, 'kinds'), { recursive: true });

const write = (path: string, text: string): void => writeFileSync(join(out, path), `${text.trimEnd()}\n`);

const fenced = (text: string): string => `\`\`\`fettle\n${text.trim()}\n\`\`\``;

/** Bars would end a table's cell. */
const cell = (text: string): string => text.replaceAll('|', '\\|');

function findingPage(id: string, page: Page): string {
  const examples = [
    page.fails && `## An example that gives it\n\n${fenced(page.fails)}`,
    page.passes && `## An example that does not\n\n${fenced(page.passes)}`,
  ].filter(Boolean);
  const beside = examples.length > 0 ? ['The examples build on [the example craft](../example-craft.md).'] : [];
  return [
    `# ${id}`,
    page.title,
    `**What happens.** ${page.cause}`,
    `**When.** ${page.criterion}`,
    `**What to do.** ${page.remedy}`,
    `**Standing.** ${page.standing}`,
    ...examples,
    ...beside,
  ].join('\n\n');
}

function kindPage(kind: BlockKind): string {
  const { description, properties } = schemaOf(kind);
  const listed = Object.values(properties);
  const isCopied = listed.some((property) => alongLike(property) !== undefined);
  const rows = listed.map(
    (property) =>
      `| \`${property.name}\` | ${cell(property.description)} | ${property.unit ?? ''} | ${plausible(property)} | ${cell(property.estimated ?? '')} |${isCopied ? ` ${alongLike(property) ?? ''} |` : ''}`,
  );
  const head = ['property', 'what it is', 'unit', 'plausible', 'when absent', ...(isCopied ? ['behind `like`'] : [])];
  return [
    `# ${kind}`,
    description,
    [`| ${head.join(' | ')} |`, `|${'---|'.repeat(head.length)}`, ...rows].join('\n'),
    ...(kind === 'bench' ? [rowsOfStand()] : []),
    ...(kind === 'observed' ? [columnsOfLog()] : []),
    ...(isCopied ? [ALONG_LIKE] : []),
  ].join('\n\n');
}

/** Rows are no property: their columns have a table of their own. */
function columnsOfLog(): string {
  const columns = Object.entries(LOG_COLUMNS).map(
    ([name, { unit, description }]) => `| \`${name}\` | ${cell(description)} | ${unit} |`,
  );
  return [
    '## The log of a flight',
    '`log` names the columns of a CSV file beside the text: by the heading in quotes, or by the column’s own name where the heading has it. The unit is in the heading (`time (s)`, `pack [mV]`, `amps`) or behind `in`. What is found in it is on [its own page](../logs.md).',
    '```fettle\nobserved "evening, tower" with Long850_4S {\n  on: 2026-10-04\n  log time, voltage "volts", current in mA "draw", output "motors (%)" from "logs/2026-10-04.csv"\n}\n```',
    ['| column | what it is | unit |', '|---|---|---|', ...columns].join('\n'),
  ].join('\n\n');
}

function rowsOfStand(): string {
  const columns = Object.entries(COLUMNS).map(
    ([
      name,
      {
        unit,
        plausible: [low, high],
        description: what,
      },
    ]) => `| \`${name}\` | ${what} | ${unit} | ${low} .. ${high} |`,
  );
  return `## Rows

\`rows\` names the columns, each with its unit; commas separate the cells, \`-\` is a cell without a value, numbers have a decimal point.
Without a block the rows come from a file of comma-separated values: \`rows duty in %, thrust in gf from "stand.csv"\`.

${fenced(`bench Kitchen "kitchen stand" {
  motor: M1606_3150
  propeller: P3024x3
  rows duty in %, voltage in V, current in A, thrust in gf, speed in rpm {
     30, 16.1, 0.71,   39, 14900
     55, 15.6, 1.88,  107, 24900
    100, 14.3, 7.92,  318,     -
  }
}`)}

| column | what it is | unit | plausible |
|---|---|---|---|
${columns.join('\n')}`;
}

/** Sentences have no entry in the tables. */
const ALONG_LIKE = `## Behind \`like\`

A line that *replaces* takes the place of all lines of its word in the base (\`motors\`, \`upper_motors\` and \`lower_motors\` go
together). One that *adds* is added to them; \`without: Name\` takes one away, \`load: none\` all of its word.

| sentence | behind \`like\` |
|---|---|
| \`require\` | a plain limit replaces the base’s limit on the same result from the same side, on the same packs (\`require hover_time >= 3 min\` for \`>= 4 min\`); anything else adds |
| \`keep\` | replaces the base’s margin on the same rating |
| \`raise\`, \`lower\` | replace what the base states about the same finding |
| \`note\` | adds |
| \`accept\` | holds only for the build that contains it |
| \`observed\` | counts for the build as well, as far as it has the parts that were on the craft; what it exchanges is shown by \`fettle explain\` |

Requirements of rules hold in addition to those of the build: a build replaces nothing that its rules require.`;

const plausible = ({ plausible: range }: Property): string => (range ? `${range[0]} .. ${range[1]}` : '');

for (const [id, page] of Object.entries(PAGES)) write(`findings/${id}.md`, findingPage(id, page));
for (const kind of BLOCK_KINDS) write(`kinds/${kind}.md`, kindPage(kind));
write(
  'example-craft.md',
  `# The example craft\n\nInvented; the findings' examples use it.\n\n${fenced(EXAMPLE_CRAFT)}`,
);
write('results.md', resultsPage(await exampleAssessment()));
write('limits.md', limitsPage());
write('VALIDATION.md', validationPage());
write('words.md', wordsPage());
write('learning.md', learningPage());
write('logs.md', logsPage());

function share(number: number): string {
  return `${Number((100 * number).toPrecision(3))} %`;
}

/** What the fit takes each line for, and what it leaves open: the numbers are those of the code. */
function learningPage(): string {
  const usual = (reading: string): number => {
    const stated = schemaOf('observed').properties[reading]?.tolerance?.stated;
    if (!stated) return 0;
    return 'relative' in stated ? stated.relative / COVERAGE : stated.absolute / 100 / COVERAGE;
  };
  const flights = Object.entries(READINGS).map(
    ([reading, { words, alike, isPlain }]) =>
      `| \`${reading}\` | ${words} | ${share(usual(reading))} | ${share(alike)} | ${isPlain ? 'of full' : 'of the value'} |`,
  );
  const rows = Object.entries(STAND_READINGS).map(
    ([reading, { error, isPlain }]) => `| \`${reading}\` | ${share(error)} | ${isPlain ? 'of full' : 'of the value'} |`,
  );
  return [
    '# What is learnt from what was measured',
    'One fit takes in every line that was measured about a build, and each line counts once:\n\n- the lines of its own `observed` blocks and logs, and of the builds that it is like;\n- those of other builds in its folder, or in what its file opens, that share a motor, a propeller or a pack with it;\n- the rows of stands about its propellers.\n\nA line that differs from the others is not left out, and no ± is widened because of it: the contradiction is reported.',
    `A reading that cannot be right is set aside before the fit and reported: one that is more than ${IMPLAUSIBLE} standard deviations from what the figures of the parts alone predict and grossly off, or one with less power than moving the air takes ([measurement-set-aside](findings/measurement-set-aside.md)).`,
    '## The fit',
    `Inputs are all figures that the lines rest on, each in its own standard deviations z ~ N(0, 1): the logarithm of what is positive, the logit of a share, everything else as it is written. A line is f(z) = y ± s, in logarithms but for an output. Gauss and Newton: at the present point g = ∂f/∂z / s, r = (y − f) / s; the mean is (1 + Σ g·gᵀ)⁻¹ Σ g·(r + g·z), the covariance (1 + Σ g·gᵀ)⁻¹. At most ${ROUNDS} rounds: every slope is found at the start and once more near the mean, in between, each step determines how the slopes change along it (C. G. Broyden, Mathematics of Computation 19 (1965) 577); twelve rounds with all slopes move nothing by a tenth of a standard deviation. The posterior is kept as the prior's inputs and a few orthonormal directions v along which a standard deviation of 1 becomes 1/√(1 + λ), so that two packs, and two builds, keep what their errors have in common.`,
    `A line contradicts the others where its residual over s·√(1 − leverage) is past 3, also compared with a fit without it: a line far off has moved the fit towards itself. The report states what that other fit makes of it, and names the one input that would explain the contradiction best: with the prior of an input moved, the sum of squares falls by at most m²/(1 − l²), at a move of m/(1 − l²), where the measurements moved it by m of its standard deviations and left it l of them. The error of a reading has three sources: the reading itself, the day (air, warmth of pack and windings, charge: inputs of their own), and the instrument, which all its readings share: amperes of a recorder ${share(INSTRUMENTS.current)}, its volts ${share(INSTRUMENTS.voltage)}, the count of a charger ${share(INSTRUMENTS.charger)}. A ± that a line states takes the place of its instrument's. All are one standard deviation; ours, from simulated craft, where nothing else is stated.`,
    ['| line | what it is | the reading, usually | two flights | |', '|---|---|---|---|---|', ...flights].join('\n'),
    `A stated charge (\`at 60 %\`) is good to ${share(CHARGE_TOLD)}; else hover was read anywhere between the full pack and the reserve. What was put back is compared with the mean current as flown, half way through. A count in the same block is compared with the charger alone, and the charger’s error is included. A burst of two seconds sags by ${share(1 - SLOW_SAG.share * Math.exp(-2 / SLOW_SAG.seconds))} ± ${share(SLOW_SAG.spread * Math.exp(-2 / SLOW_SAG.seconds))} of the resistance that counts in a climb, one of half a minute by nearly all of it. How warm the pack was on that day and how warm it is usually go together with a correlation of ${ALIKE_IN_WARMTH}. Of two dated observations of one pack the resistance one year earlier was ${share(GROWTH_PER_YEAR.mean)} less, give or take ${share(GROWTH_PER_YEAR.spread)} times the root of the years. (Ours.)`,
    ['| column of a stand | one row | |', '|---|---|---|', ...rows].join('\n'),
    `A stand's amperes have a scale of ${share(STAND_SCALES.current)}, its thrust one of ${share(STAND_SCALES.thrust)}, which is also what one specimen is off from another. A row without voltage and duty is open in what it lacks: its speed is an input.`,
    '## Figures that are far off, and what cannot be distinguished',
    `A figure that the measurements put more than ${FARTHER} of its own standard deviations off is named ([estimate-gives-way](findings/estimate-gives-way.md)). Rows without torque do not distinguish a propeller that takes less power from a motor that loses less: electrical power, speed and thrust determine the two together, and what commutation and iron lose is known to a third. Of simulated propellers three standard deviations off their page, measured in three rows, all are named with torque, and without it 85 in 100 of those that take more and half of those that take less. The power of motor and propeller together, for the thrust and speed of the rows, is what such rows determine, to a few per cent; where it lies as far off what the figures make it, it is named instead, which finds another tenth. The rows contain no more: of three standard deviations of the propeller, two are left in that power.`,
    '## Trend and discrepancy',
    `C_T and C_P are proportional to speed to the power of 0.05 ± 0.05 and −0.05 ± 0.05 (one standard deviation) about tips at 100 m/s. Where rows of a stand show it, they depart from that by a Gaussian process with the amplitudes ${AMPLITUDE.thrust} in thrust and ${AMPLITUDE.power} in shaft power, a squared exponential of the width 0.7 in the logarithm of speed, given by its values at ${KNOTS.length} knots. The model's own terms for full and part duty, for the pack and for the windings are inputs as well: see the [limits](limits.md).`,
    '## Sources',
    [
      '- A. Tarantola, Inverse Problem Theory, 2005, ch. 3: least squares with prior knowledge.',
      '- M. C. Kennedy, A. O’Hagan, J. R. Stat. Soc. B 63 (2001) 425: calibration with a discrepancy of the model.',
      '- D. A. Belsley, E. Kuh, R. E. Welsch, Regression Diagnostics, 1980, ch. 2: leverage.',
      '- C. R. Rao, Proc. Cambridge Phil. Soc. 44 (1948) 50: the score test.',
      '- JCGM 100: the meaning of ±.',
    ].join('\n'),
    'How well this works is in [validation](VALIDATION.md).',
  ].join('\n\n');
}

function logsPage(): string {
  const readings = Object.entries(LOG_READINGS).map(
    ([, { words, error, isPlain, unit }]) =>
      `| ${words} | ${unit} | ${isPlain ? `${unit === '%' ? Number((100 * error).toPrecision(3)) : error} ${unit}` : `${Number((100 * error).toPrecision(3))} %`} |`,
  );
  return [
    '# Logs of flights',
    'A recorder’s table (CSV) becomes lines of the [fit](learning.md), like a scale or a charger. `fettle observe LOG BUILD --with PACK` shows what is in it, compared with what the build predicts, and with `--write` writes the `observed` block; a `log` line in that block does the rest. Its grammar is on the page of [`observed`](kinds/observed.md).',
    '## What is read',
    'Comma, semicolon or tab between cells; decimal points or commas; other lines ahead of the headings; times in any unit, or times of day; 1 to 1000 rows per second, evenly or not; gaps, and restarts of the recorder; up to 64 MB. Rows are averaged over 0.1 s, over longer where there are more than 20 000 such moments, so that memory does not grow with the file. A damaged row is left out and reported once, with its line. A file outside of the workspace is not read. A file is read once, and again when it changes; in an editor a long one is read while typing goes on.',
    '## What is found',
    [
      '- **Take-off and landing**: the current, else the output, rises past 40 % of the way from rest to flight; with volts alone they fall, and stay there. Pauses under 2.5 s belong to the flight. The longest flight of the file counts.',
      '- **Rest** before take-off (the charge at the beginning) and after landing. A log that begins in the air does not show the charge at its beginning; all else in it is used.',
      '- **Steady stretches** of 4 s and more in which current and output stay within 10 %. With a speed over ground they are hover (under 0.8 m/s) or cruise; without, those that draw about as much as most of the flight are taken for hover, with a ± of 4 %.',
      '- **Bursts**: more than 1.5 times the median of the flight, half a second each, the three strongest.',
      '- **Charge** by integration, and the mean power in the air.',
      '- **Sag**: regression of volts on amperes within 8 s, so at equal charge.',
    ].join('\n'),
    'Thresholds are shares of what the log itself shows, so that they fit a craft of any size; all are ours.',
    '## What is learnt from it',
    `Volts are compared with the amperes that were logged with them: they depend on the pack alone. Quick changes of the current, as in a burst, cause a sag over ${share(QUICK.share)} ± ${share(QUICK.spread)} (one standard deviation) of the cells’ resistance; the rest follows within some ${QUICK.seconds} s, and recovers as slowly after landing. The mean power in the air is compared with hover once the bursts that the log shows are taken off. Amperes, output and speed in steady stretches are compared with hover. Scale and zero of the recorder are inputs of their own, shared by all logs of a craft; the charge at the beginning, and how much more than hovering the stretches take, are the flight’s. The error of each line itself, as one standard deviation:`,
    ['| line | unit | error |', '|---|---|---|', ...readings].join('\n'),
    'A log whose output stays at zero, or whose amperes or volts cannot be right (milliamperes for amperes, on the ground, the volts of one cell), is not used, and is reported; `fettle observe` does not write it by itself. A pack that rests above what its chemistry allows (4.27 V per cell where 4.2 V are declared) is reported, and the volts of that rest are left out.',
    '## Compared with flights',
    'Three flights of a craft of 3.7 kg and two hops of one of 27 g, logged by others (`test/reference/flight-logs`): each is read without columns or units being stated. What is learnt from the first flight predicts the mean power of the second, with 250 g more, within 5 % (found: 1 to 3 %), and its volts over the logged current within 2 % (found: 0.5 %); no healthy pack gives a warning. And simulated craft of another make: see [validation](VALIDATION.md).',
  ].join('\n\n');
}

/** How the laws of learning came out over simulated craft; written by `test/simulated/laws.test.ts`. */
interface LearningReport {
  readonly craft: number;
  readonly rows: readonly {
    readonly set: string;
    readonly pack: string;
    readonly result: string;
    readonly rms: number;
    readonly plusMinus: number;
    readonly covered: number;
    readonly below: number;
    readonly above: number;
  }[];
}

function learningValidation(): string[] {
  const file = join(import.meta.dirname, '../../test/reference/learning.json');
  if (!existsSync(file)) return [];
  const { craft, rows }: LearningReport = JSON.parse(readFileSync(file, 'utf8'));
  const shown = rows.map(({ set, pack, result, rms, plusMinus, covered, below, above }) =>
    [MEASURED[set] ?? set, pack, `[\`${result}\`](results.md#${result})`, rms, plusMinus, covered, below, above].join(
      ' | ',
    ),
  );
  return [
    '## What is learnt',
    `Over ${craft} simulated craft from a model of another make (its own solver, ripple, commutation, sag, sensors that are off): how far results lie from the truth (rms), the ± that is stated (mean), and in how many of a hundred the truth lies within it, below and above; all in %. The formulation is in [what is learnt](learning.md).`,
    [
      '| measured | pack | result | rms | ± | within | below | above |',
      '|---|---|---|---|---|---|---|---|',
      ...shown.map((row) => `| ${row} |`),
    ].join('\n'),
  ];
}

/** Published rows held back from the fit; written by `test/simulated/published.test.ts`. */
interface HeldTable {
  readonly reading: string;
  readonly rows: string;
  readonly count: number;
  readonly rms: number;
  readonly plusMinus: number;
  readonly within: number;
  readonly below: number;
  readonly above: number;
}

function heldRowsValidation(): string[] {
  const file = join(import.meta.dirname, '../../test/reference/held-rows.json');
  if (!existsSync(file)) return [];
  const table: readonly HeldTable[] = JSON.parse(readFileSync(file, 'utf8'));
  const shown = table.map(({ reading, rows, count, rms, plusMinus, within, below, above }) =>
    [reading, rows, count, rms, plusMinus, within, below, above].join(' | '),
  );
  return [
    '## Published pairs, one row left out',
    'Ten motors with their propellers of 8 to 15 inch at six throttles each (Czech Technical University in Prague, multirotor group, “Motor tests”): each row as predicted from the five others and the data-sheet figures; lowest and highest rows lie outside the others. In %.',
    [
      '| column | rows | number | rms | ± | within | below | above |',
      '|---|---|---|---|---|---|---|---|',
      ...shown.map((row) => `| ${row} |`),
    ].join('\n'),
  ];
}

/** The index by the trade's words: each leads to ours. */
function wordsPage(): string {
  const kindsOf = (ours: string): string[] => BLOCK_KINDS.filter((kind) => kind === ours);
  const linkOf = (ours: string): string => {
    const homes = homesOf(ours).filter((home) => home.ours === ours);
    const kind = kindsOf(ours)[0] ?? homes[0]?.kind;
    if (kind === undefined) return resultOf(ours) ? `[\`${ours}\`](results.md)` : `\`${ours}\``;
    const of = kindsOf(ours).length > 0 ? '' : ` (${[...new Set(homes.map((home) => home.kind))].join(', ')})`;
    return `[\`${ours}\`](kinds/${kind}.md)${of}`;
  };
  const rows = [...SYNONYMS]
    .sort(([left], [right]) => (left < right ? -1 : 1))
    .map(([word, ours]) => `| ${word.replaceAll('_', ' ')} | ${ours.map(linkOf).join('; ')} |`);
  return [
    '# Words of the trade',
    'What it is called here. In a text each of these is understood as a slip: the message states our word and a fix writes it.',
    ['| also called | here |', '|---|---|', ...rows].join('\n'),
  ].join('\n\n');
}

/** One number of every sort, for formulas whose terms depend on the craft. */
async function exampleAssessment(): Promise<Assessment> {
  const { shared } = createFettleServices(EmptyFileSystem);
  const document = shared.workspace.LangiumDocumentFactory.fromString<File>(
    EXAMPLE_CRAFT,
    URI.parse('file:///example.fettle'),
  );
  shared.workspace.LangiumDocuments.addDocument(document);
  await shared.workspace.DocumentBuilder.build([document]);
  const [build] = readDocument(document).builds;
  const [option] = build?.packs ?? [];
  if (!build || !option) throw new Error('the example craft has no build on a pack');
  return assess(build, option);
}

function resultsPage(example: Assessment): string {
  const rows = RESULTS.map(
    ({ name, description, unit }) => `| [\`${name}\`](#${name}) | ${cell(description)} | ${unit} |`,
  );
  return [
    '# Results',
    'What is computed for each build on each pack, by the name that `require`, hovers and JSON use. Results of flights in legs (`flight.NAME.charge`) have [a page of their own](flights.md).',
    ['| name | what it is | unit |', '|---|---|---|', ...rows].join('\n'),
    'What the model leaves out as a whole is in [limits](limits.md); how well it agrees with what was measured, in [validation](VALIDATION.md).',
    ...RESULTS.map(({ name, label }) => resultSection(name, label, example)),
  ].join('\n\n');
}

function resultSection(name: string, label: string, example: Assessment): string {
  const explanation = explanationOf(name)?.(example, SEARCHES);
  const limits = MODEL_LIMITS.filter(({ results }) => results.includes(name)).map(({ title }) => title.toLowerCase());
  return [
    `## ${name}`,
    `${label[0]?.toUpperCase()}${label.slice(1)}.`,
    explanation && `\`${explanation.formula}\`: ${explanation.description}`,
    explanation && `**Source.** ${explanation.source}.`,
    explanation?.neglects && `**Leaves out.** ${explanation.neglects}.`,
    limits.length > 0 && `**Limits.** See [limits](limits.md): ${limits.join(', ')}.`,
  ]
    .filter(Boolean)
    .join('\n\n');
}

function limitsPage(): string {
  return [
    '# Limits of the model',
    'What is left out, and when it matters. The ± of a result covers the figures that went in and the terms named here as being in it; it does not cover a craft flown in a way that this page leaves out. Figures without a source are common practice.',
    ...MODEL_LIMITS.map(({ title, neglected, matters, results }) =>
      [
        `## ${title}`,
        `**Left out.** ${neglected}`,
        `**Matters.** ${matters}`,
        `**Touches.** ${[...new Set(results)].map((name) => (resultOf(name) ? `[\`${name}\`](results.md#${name})` : name)).join(', ')}.`,
      ].join('\n\n'),
    ),
  ].join('\n\n');
}

/** What the suites measured; they compare with the same file. */
interface Agreement {
  readonly check: string;
  readonly source: string;
  readonly standing: string;
  readonly suite: string;
  readonly found: string;
}

function validationPage(): string {
  const file = join(import.meta.dirname, '../../test/reference/agreement.json');
  const agreements: readonly Agreement[] = JSON.parse(readFileSync(file, 'utf8'));
  const rows = agreements.map(
    ({ check, source, standing, suite, found }) =>
      `| ${[check, source, standing.replace('from memory', 'unverified'), found].map(cell).join(' | ')} | \`${suite}\` |`,
  );
  return [
    '# Validation',
    'Sources outside the project with which the computation was compared. *Read*: the numbers were read in the source or a copy of it; *unverified*: typed without a copy of it; *computed*: made by an independent program or from the definition. The tests fail when what they find differs from this page.',
    [
      '| what is checked | source | standing of its numbers | agreement found | suite |',
      '|---|---|---|---|---|',
      ...rows,
    ].join('\n'),
    ...learningValidation(),
    ...heldRowsValidation(),
    'Thresholds and estimates that have no source are marked *common practice* or *ours* where they are used: on the pages of [findings and kinds](README.md). The arithmetic being right does not make the model right: [limits](limits.md) lists what it leaves out.',
  ].join('\n\n');
}

write(
  'README.md',
  [
    '# Reference',
    'Written from the tables in the code by `npm run generate`; do not edit, except the pages on deciding, flights, editors, the protocol and the library, which are written by hand.',
    `## Findings\n\n${Object.entries(PAGES)
      .map(([id, { title }]) => `- [${id}](findings/${id}.md): ${title}`)
      .join('\n')}`,
    `## Kinds\n\n${BLOCK_KINDS.map((kind) => `- [${kind}](kinds/${kind}.md): ${schemaOf(kind).description}`).join('\n')}`,
    '## More\n\n- [Results](results.md)\n- [Words of the trade, and what they are called here](words.md)\n- [Validation](VALIDATION.md)\n- [Limits of the model](limits.md)\n- [What is learnt from what was measured](learning.md)\n- [Logs of flights](logs.md)\n- [The example craft](example-craft.md)\n- [Deciding before buying](choosing.md)\n- [Flights in legs](flights.md)\n- [What the editor gives you](editor.md)\n- [Other editors](editors.md)\n- [Beyond the protocol](protocol.md)\n- [The library](library.md)',
  ].join('\n\n'),
);
