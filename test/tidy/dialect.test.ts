/** Habits of writing that the linter has no rule for. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const LINE_WIDTH = 120;
/** `if (…) {`, one statement, `}`, and no `else` behind it. */
const BRACED = /^( *)(if \([^\n]*\)) \{\n\1 {2}([^\n]*;)\n\1\}\n(?!\1else)/gm;
/** A declaration needs its block, and so does a statement with another one inside; a comment ends a line. */
const NEEDS_BLOCK = /^(?:const|let|if|for|while)\b|\/\//;

/** What a file has from one module is in one statement. */
const NAMED_IMPORT = /^import (?:type )?\{[^}]*\} from '([^']+)';$/gm;

const listed = execFileSync('git', ['ls-files', '*.ts', '*.mts'], { cwd: root, encoding: 'utf8' });
const sources = listed
  .split('\n')
  .filter((file) => file !== '' && !file.includes('/generated/'))
  .map((file) => ({ file, text: readFileSync(join(root, file), 'utf8') }));

it('reads all files', () => {
  expect(sources.length).toBeGreaterThan(1000);
});

it('an if with one statement that fits in its line has no braces', () => {
  const wrong = sources.flatMap(({ file, text }) =>
    [...text.matchAll(BRACED)].flatMap(([, indent = '', head = '', statement = '']) => {
      const line = `${indent}${head} ${statement}`;
      return NEEDS_BLOCK.test(statement) || line.length > LINE_WIDTH ? [] : [`${file}: ${line.trim()}`];
    }),
  );
  expect(wrong).toEqual([]);
});

it('a module is imported once', () => {
  const wrong = sources.flatMap(({ file, text }) => {
    const modules = [...text.matchAll(NAMED_IMPORT)].map(([, module]) => module);
    const twice = modules.filter((module, i) => modules.indexOf(module) !== i);
    return twice.map((module) => `${file}: ${module}`);
  });
  expect(wrong).toEqual([]);
});
