/** The one habit of writing that the linter has no rule for. */
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

it('an if with one statement that fits in its line has no braces', () => {
  const listed = execFileSync('git', ['ls-files', '*.ts', '*.mts'], { cwd: root, encoding: 'utf8' });
  const files = listed.split('\n').filter((file) => file !== '' && !file.includes('/generated/'));
  expect(files.length).toBeGreaterThan(1000);
  const wrong = files.flatMap((file) =>
    [...readFileSync(join(root, file), 'utf8').matchAll(BRACED)].flatMap(
      ([, indent = '', head = '', statement = '']) => {
        const line = `${indent}${head} ${statement}`;
        return NEEDS_BLOCK.test(statement) || line.length > LINE_WIDTH ? [] : [`${file}: ${line.trim()}`];
      },
    ),
  );
  expect(wrong).toEqual([]);
});
