/** A file that a comment or a page for contributors names is there: whoever follows the name after a change of it finds nothing. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const files = execFileSync('git', ['ls-files'], { cwd: root, encoding: 'utf8' }).split('\n').filter(Boolean);
const folders = new Set(files.flatMap((file) => file.split('/').map((_, i, steps) => steps.slice(0, i).join('/'))));

/** By the end of its path: `kinds/flying.ts`, `cli/*-commands.ts`, `test/physics`. */
function isThere(named: string): boolean {
  const path = new RegExp(`(?:^|/)${named.replaceAll('.', '\\.').replaceAll('*', '[^/]*')}$`);
  return [files, [...folders]].some((paths) => paths.some((one) => path.test(one)));
}

const FILE = /(?<![\w./*-])((?:[\w-]+\/)*\w[\w.-]*\.m?ts)\b/g;
const COMMENT = /\/\*.*?\*\/|(?<!:)\/\/[^\n]*/gs;

it('in comments', () => {
  const sources = files.filter((file) => /\.m?ts$/.test(file) && !file.includes('/generated/'));
  const gone = sources.flatMap((file) => {
    const comments = readFileSync(join(root, file), 'utf8').match(COMMENT) ?? [];
    const named = comments.flatMap((comment) => [...comment.matchAll(FILE)].map(([, name = '']) => name));
    return named.filter((name) => !isThere(name)).map((name) => `${file}: ${name}`);
  });
  expect(gone).toEqual([]);
});

it('on the page for contributors', () => {
  const page = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8').replaceAll(/```.*?```/gs, '');
  const spans = [...page.matchAll(/`([\w.*/-]+)`/g)].map(([, span = '']) => span);
  const named = spans.filter(
    (span) => /\w\.(?:m?ts|cjs|json|md|grit)$|\w\/\w/.test(span) && !span.startsWith('.cache/'),
  );
  expect(named.length).toBeGreaterThan(80);
  expect(named.filter((name) => !isThere(name.replace(/\/$/, '')))).toEqual([]);
});
