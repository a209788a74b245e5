/** Writes the reference pages from the tables they document: findings, kinds and properties, results. */

import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { learningPage, share } from './learning-page.ts';
import { escapedCell, markdownTable } from './page-table.ts';
import { resultsPage } from './results-page.ts';
import { MODEL_LIMITS } from './src/analysis/explain/model-limits.ts';
import { QUICK } from './src/analysis/learn/log-predictions.ts';
import { LOG_READINGS } from './src/analysis/learn/log-readings.ts';
import { EXAMPLE_CRAFT } from './src/checks/example-craft.ts';
import { PAGES } from './src/checks/registry.ts';
import { COLUMNS, LOG_COLUMNS } from './src/vocabulary/columns.ts';
import type { FixSort, Page } from './src/vocabulary/finding-page.ts';
import { BLOCK_KINDS, schemaOf } from './src/vocabulary/properties.ts';
import { resultOf } from './src/vocabulary/results.ts';
import { alongLike, type BlockKind, type Property } from './src/vocabulary/schema.ts';
import { homesOf, oursAmong, SYNONYMS } from './src/vocabulary/synonyms.ts';

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
  'check.schema.json',
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

/** Whether a fix is offered, and how sure it is. */
const FIXES: Readonly<Record<FixSort, string>> = {
  certain:
    'Where nothing else can have been meant, an edit that keeps the meaning: an editor may apply it as it saves (`source.fixAll`).',
  choice: 'Where a likely edit is known, it is offered to be chosen: the meaning may then be another.',
  computed:
    'An edit of the craft is offered only if the craft, computed with it, no longer has this finding, and no other becomes graver.',
  'another-part': 'Where no edit helps, the part to take is named.',
};

const NO_FIX = 'None is offered: what to change is the builder’s choice.';

function findingPage(id: string, page: Page): string {
  const passing =
    page.passes === undefined
      ? `No example is without it: ${page.withoutPassing}.`
      : `## An example that does not\n\n${fenced(page.passes)}`;
  return [
    `# ${id}`,
    page.title,
    `**What happens.** ${page.cause}`,
    `**When.** ${page.criterion}`,
    `**What to do.** ${page.remedy}`,
    `**Fix.** ${page.fixes.length === 0 ? NO_FIX : page.fixes.map((sort) => FIXES[sort]).join(' ')}`,
    `**Standing.** ${page.standing}`,
    `## An example that gives it\n\n${fenced(page.fails)}`,
    passing,
    'The examples build on [the example craft](../example-craft.md).',
  ].join('\n\n');
}

function kindPage(kind: BlockKind): string {
  const { description, properties } = schemaOf(kind);
  const listed = Object.values(properties);
  const isCopied = listed.some((property) => alongLike(property) !== undefined);
  const rows = listed.map(
    (property) =>
      `| \`${property.name}\` | ${escapedCell(property.description)} | ${property.unit ?? ''} | ${plausible(property)} | ${escapedCell(property.estimated ?? '')} |${isCopied ? ` ${alongLike(property) ?? ''} |` : ''}`,
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
    ([name, { unit, description }]) => `| \`${name}\` | ${escapedCell(description)} | ${unit} |`,
  );
  return [
    '## The log of a flight',
    '`log` names the columns of a CSV file in the folder of the text or below: by the heading in quotes, or by the column’s own name where the heading has it. The unit is in the heading (`time (s)`, `pack [mV]`, `amps`) or behind `in`. What is found in it is on [its own page](../logs.md).',
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
  `# The example craft\n\nInvented; the findings' examples use it, as \`craft.fettle\` in their folder.\n\n${fenced(EXAMPLE_CRAFT)}`,
);
write('results.md', await resultsPage());
write('limits.md', limitsPage());
write('VALIDATION.md', validationPage());
write('words.md', wordsPage());
write('learning.md', learningPage());
write('logs.md', logsPage());

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
      '- **Temperatures**: of the air over the flight, and of the pack within 10 s of take-off (medians). They take the place of the usual ones on that day, each ± 3 K; an `air` line of the block counts before the column. The temperature of anything else (motors, boards) is not read.',
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
  return [
    '## What is learnt',
    `Over ${craft} simulated craft from a model of another make (its own solver, ripple, commutation, sag, sensors that are off): how far results lie from the truth (rms), the ± that is stated (mean), and in how many of a hundred the truth lies within it, below and above; all in %. The formulation is in [what is learnt](learning.md).`,
    markdownTable(
      ['measured', 'pack', 'result', 'rms', '±', 'within', 'below', 'above'],
      rows.map(({ set, pack, result, rms, plusMinus, covered, below, above }) => {
        const link = `[\`${result}\`](results.md#${result})`;
        return [MEASURED[set] ?? set, pack, link, rms, plusMinus, covered, below, above];
      }),
    ),
    'With the other model twice as far off as practice knows it, one ± is too narrow: that of the voltage to land at. It rests on how the cells behave near empty, their resting voltage and the growth of their resistance in equal parts, and of what is usually measured nothing is read there. A ± that included that as well would be too wide for every craft that is as usual.',
  ];
}

/** Published rows left out of the fit; written by `test/simulated/published.test.ts`. */
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
  return [
    '## Published pairs, one row left out',
    'Ten motors with their propellers of 8 to 15 inch at six throttles each (Czech Technical University in Prague, multirotor group, “Motor tests”): each row as predicted from the five others and the data-sheet figures; lowest and highest rows lie outside the others. In %.',
    markdownTable(
      ['column', 'rows', 'number', 'rms', '±', 'within', 'below', 'above'],
      table.map((row) => [row.reading, row.rows, row.count, row.rms, row.plusMinus, row.within, row.below, row.above]),
    ),
  ];
}

/** The index by the trade's words: each leads to ours. */
function wordsPage(): string {
  const kindsOf = (ours: string): string[] => BLOCK_KINDS.filter((kind) => kind === ours);
  const linkOf = (word: string, ours: string): string => {
    const isMeantIn = (kind: BlockKind) =>
      oursAmong(word, (name) => Object.hasOwn(schemaOf(kind).properties, name)).includes(ours);
    const homes = homesOf(ours).filter((home) => home.ours === ours && isMeantIn(home.kind));
    const kind = kindsOf(ours)[0] ?? homes[0]?.kind;
    if (kind === undefined) return resultOf(ours) ? `[\`${ours}\`](results.md)` : `\`${ours}\``;
    const of = kindsOf(ours).length > 0 ? '' : ` (${[...new Set(homes.map((home) => home.kind))].join(', ')})`;
    return `[\`${ours}\`](kinds/${kind}.md)${of}`;
  };
  const rows = [...SYNONYMS]
    .sort(([left], [right]) => (left < right ? -1 : 1))
    .map(([word, ours]) => [word.replaceAll('_', ' '), ours.map((one) => linkOf(word, one)).join('; ')]);
  return [
    '# Words of the trade',
    'What it is called here. In a text each of these is understood as a slip: the message states our word and a fix writes it.',
    markdownTable(['also called', 'here'], rows),
  ].join('\n\n');
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
  const rows = agreements.map(({ check, source, standing, suite, found }) => [
    ...[check, source, standing.replace('from memory', 'unverified'), found].map(escapedCell),
    `\`${suite}\``,
  ]);
  return [
    '# Validation',
    'Sources outside the project with which the computation was compared. *Read*: the numbers were read in the source or a copy of it; *unverified*: typed without a copy of it; *computed*: made by an independent program or from the definition. The tests fail when what they find differs from this page.',
    markdownTable(['what is checked', 'source', 'standing of its numbers', 'agreement found', 'suite'], rows),
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
    '## More\n\n- [Results](results.md)\n- [Words of the trade, and what they are called here](words.md)\n- [Validation](VALIDATION.md)\n- [Limits of the model](limits.md)\n- [What is learnt from what was measured](learning.md)\n- [Logs of flights](logs.md)\n- [The example craft](example-craft.md)\n- [Deciding before buying](choosing.md)\n- [Flights in legs](flights.md)\n- [What the editor gives you](editor.md)\n- [Other editors](editors.md)\n- [Beyond the protocol](protocol.md)\n- [What `fettle check --format json` prints](check.schema.json), as a JSON schema\n- [The library](library.md)',
  ].join('\n\n'),
);
