/** Writes the lists of what is in a folder, one file per name: the names are those of the vocabulary, and each has its file. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { CRAFT_CHECK_IDS, FINDING_IDS, TEXT_FINDINGS } from './src/vocabulary/findings.ts';
import { RESULT_NAMES } from './src/vocabulary/results.ts';

const source = new URL('src/', import.meta.url);

const camel = (name: string): string => name.replace(/[_-](\w)/g, (_, letter: string) => letter.toUpperCase());

const upper = (name: string): string => name.replaceAll('-', '_').toUpperCase();

interface List {
  /** Of the files, from where the list is written. */
  readonly folder: string;
  readonly list: string;
  readonly names: readonly string[];
  readonly type: string;
  /** What a file exports. */
  readonly exported: (name: string) => string;
}

const fileOf = (name: string): string => `${name.replaceAll('_', '-')}.ts`;

function write(written: string, imports: readonly string[], lists: readonly List[]): void {
  const folderOfLists = new URL('.', new URL(written, source));
  for (const { folder, names, exported } of lists)
    for (const name of names) {
      const file = new URL(`${folder}/${fileOf(name)}`, folderOfLists);
      if (existsSync(file)) continue;
      console.error(
        `${name} is in the vocabulary and has no file: write ${fileURLToPath(file)}, exporting ${exported(name)}`,
      );
      process.exit(1);
    }
  const lines = [
    '// Written by "npm run generate" from the names in the vocabulary: a name without its file does not compile.',
    ...imports,
    ...lists.flatMap(({ folder, names, exported }) =>
      names.map((name) => `import { ${exported(name)} } from '${folder}/${fileOf(name)}';`).sort(),
    ),
    ...lists.flatMap(({ list, names, type, exported }) => [
      '',
      `export const ${list}: ${type} = {`,
      ...names.map((name) => (name === exported(name) ? `  ${name},` : `  '${name}': ${exported(name)},`)),
      '};',
    ]),
    '',
  ];
  const file = new URL(written, source);
  mkdirSync(new URL('.', file), { recursive: true });
  writeFileSync(file, lines.join('\n'));
}

write(
  'analysis/results/generated/result-files.ts',
  [
    "import type { ResultName } from '../../../vocabulary/results.ts';",
    "import type { ResultComputation } from '../result.ts';",
  ],
  [
    {
      folder: '..',
      list: 'RESULT_COMPUTATIONS',
      names: RESULT_NAMES,
      type: 'Readonly<Record<ResultName, ResultComputation>>',
      exported: camel,
    },
  ],
);

write(
  'checks/generated/checks.ts',
  ["import type { CraftCheckId } from '../../vocabulary/findings.ts';", "import type { Check } from '../check.ts';"],
  [
    {
      folder: '../craft',
      list: 'CRAFT_CHECKS',
      names: CRAFT_CHECK_IDS,
      type: 'Readonly<Record<CraftCheckId, Check>>',
      exported: camel,
    },
  ],
);

write(
  'checks/text/generated/text-checks.ts',
  [
    "import type { TextId } from '../../../vocabulary/findings.ts';",
    "import type { TextCheck } from '../text-check.ts';",
  ],
  [
    {
      folder: '..',
      list: 'TEXT_CHECKS',
      names: Object.keys(TEXT_FINDINGS),
      type: 'Readonly<Record<TextId, TextCheck>>',
      exported: upper,
    },
  ],
);

// What the extension's settings complete: the names of all findings.
const manifest = new URL('../extension/package.json', import.meta.url);
const extension = JSON.parse(readFileSync(manifest, 'utf8'));
extension.contributes.configuration.properties['fettle.severities'].propertyNames.enum = FINDING_IDS;
writeFileSync(manifest, `${JSON.stringify(extension, null, 2)}\n`);
