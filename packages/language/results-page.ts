/** The reference page of the results: what each is, and how it is computed. */
import { EmptyFileSystem, URI } from 'langium';
import { escapedCell, markdownTable } from './page-table.ts';
import { assess } from './src/analysis/assess.ts';
import type { Assessment } from './src/analysis/assessment.ts';
import { SEARCHES } from './src/analysis/explain/derivation.ts';
import { MODEL_LIMITS } from './src/analysis/explain/model-limits.ts';
import { explanationOf } from './src/analysis/results/all-results.ts';
import { EXAMPLE_CRAFT } from './src/checks/example-craft.ts';
import { readDocument } from './src/checks/text/read-document.ts';
import type { File } from './src/grammar/generated/ast.ts';
import { FLIGHT_RESULTS, RAIL_RESULTS, RESULTS, type ResultName, type ResultSchema } from './src/vocabulary/results.ts';
import { createFettleServices } from './src/workspace/services.ts';

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

export async function resultsPage(): Promise<string> {
  const example = await exampleAssessment();
  const rows = RESULTS.map(({ name, description, unit }) => [
    `[\`${name}\`](#${name})`,
    escapedCell(description),
    unit,
  ]);
  return [
    '# Results',
    'What is computed for each build on each pack, by the name that `require`, hovers and JSON use. What the model leaves out as a whole is in [limits](limits.md); how well it agrees with what was measured, in [validation](VALIDATION.md).',
    markdownTable(HEADINGS, rows),
    `## Of each rail and of each flight in legs

\`rail.video.voltage\` is that of the rail \`video\`, \`rail.Top.video.voltage\` that of the board that the build calls \`Top\`. A flight’s results are explained on [its page](flights.md).`,
    markdownTable(HEADINGS, [...RAIL_RESULTS.map(rowBelow('rail')), ...FLIGHT_RESULTS.map(rowBelow('flight'))]),
    ...RESULTS.map(({ name, label }) => resultSection(name, label, example)),
  ].join('\n\n');
}

const HEADINGS = ['name', 'what it is', 'unit'];

const rowBelow =
  (owner: 'rail' | 'flight') =>
  ({ name, description, unit }: ResultSchema<string>) => [`\`${owner}.NAME.${name}\``, escapedCell(description), unit];

function resultSection(name: ResultName, label: string, example: Assessment): string {
  const explanation = explanationOf({ of: 'craft', result: name })(example, SEARCHES);
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
