/** Writes the lists of what stands in a folder, one file a thing: the names are those of the vocabulary, and each has its file. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { RESULT_NAMES } from './src/vocabulary/results.ts';

const source = new URL('src/', import.meta.url);

const camel = (name: string): string => name.replace(/[_-](\w)/g, (_, letter: string) => letter.toUpperCase());

interface Listed {
  readonly folder: string;
  readonly written: string;
  readonly list: string;
  readonly names: readonly string[];
  readonly type: string;
  readonly imports: string;
}

function write({ folder, written, list, names, type, imports }: Listed): void {
  const files = names.map((name) => name.replaceAll('_', '-'));
  const lines = [
    '// Written by "npm run generate" from the names in the vocabulary: a name without its file does not compile.',
    imports,
    ...names.map((name, i) => `import { ${camel(name)} } from '${folder}/${files[i]}.ts';`).sort(),
    '',
    `export const ${list}: ${type} = {`,
    ...names.map((name) => (name === camel(name) ? `  ${name},` : `  '${name}': ${camel(name)},`)),
    '};',
    '',
  ];
  const file = new URL(written, source);
  mkdirSync(new URL('.', file), { recursive: true });
  writeFileSync(file, lines.join('\n'));
}

write({
  folder: '..',
  written: 'analysis/results/generated/results.ts',
  list: 'RESULT_COMPUTATIONS',
  names: RESULT_NAMES,
  type: 'Readonly<Record<ResultName, ResultComputation>>',
  imports:
    "import type { ResultName } from '../../../vocabulary/results.ts';\nimport type { ResultComputation } from '../result.ts';",
});
