/** Writes the reference pages from the tables they document: findings, kinds and properties, results. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from './src/checks/check.ts';
import { EXAMPLE_CRAFT } from './src/checks/example-craft.ts';
import { PAGES } from './src/checks/registry.ts';
import { BLOCK_KINDS, schemaOf } from './src/vocabulary/properties.ts';
import { RESULTS } from './src/vocabulary/results.ts';
import type { BlockKind, Property } from './src/vocabulary/schema.ts';

const out = join(import.meta.dirname, 'reference');
rmSync(out, { recursive: true, force: true });
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
  const beside = examples.length > 0 ? ['The examples stand beside [the example craft](../example-craft.md).'] : [];
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
  const { says, properties } = schemaOf(kind);
  const rows = Object.values(properties).map(
    (property) =>
      `| \`${property.name}\` | ${cell(property.says)} | ${property.unit ?? ''} | ${plausible(property)} | ${cell(property.estimated ?? '')} |`,
  );
  return [
    `# ${kind}`,
    says,
    ['| property | what it is | unit | plausible | when absent |', '|---|---|---|---|---|', ...rows].join('\n'),
  ].join('\n\n');
}

const plausible = ({ plausible: range }: Property): string => (range ? `${range[0]} .. ${range[1]}` : '');

for (const [id, page] of Object.entries(PAGES)) write(`findings/${id}.md`, findingPage(id, page));
for (const kind of BLOCK_KINDS) write(`kinds/${kind}.md`, kindPage(kind));
write(
  'example-craft.md',
  `# The example craft\n\nInvented; the findings' examples stand beside it.\n\n${fenced(EXAMPLE_CRAFT)}`,
);
write(
  'results.md',
  [
    '# Results',
    'What is computed for each build on each pack, by the name that `require`, hovers and JSON use.',
    [
      '| name | what it is | unit |',
      '|---|---|---|',
      ...RESULTS.map(({ name, says, unit }) => `| \`${name}\` | ${cell(says)} | ${unit} |`),
    ].join('\n'),
  ].join('\n\n'),
);
write(
  'README.md',
  [
    '# Reference',
    'Written from the tables in the code by `npm run generate`; do not edit.',
    `## Findings\n\n${Object.entries(PAGES)
      .map(([id, { title }]) => `- [${id}](findings/${id}.md): ${title}`)
      .join('\n')}`,
    `## Kinds\n\n${BLOCK_KINDS.map((kind) => `- [${kind}](kinds/${kind}.md): ${schemaOf(kind).says}`).join('\n')}`,
    '## More\n\n- [Results](results.md)\n- [The example craft](example-craft.md)',
  ].join('\n\n'),
);
