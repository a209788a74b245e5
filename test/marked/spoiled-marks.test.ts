/** Each mark of each case is checked: with any one of them spoiled, the case does not hold. */
import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { oneIn } from '../long.ts';
import { type Case, isJudged, type Mark, nameOf, readCase, SEVERITIES } from './marks.ts';
import { CaseServers } from './play-case.ts';

const servers = new CaseServers();
afterAll(() => servers.stop());

/** The opposite of a mark, or what is nowhere. */
const OPPOSITES: Readonly<Record<string, string>> = {
  related: 'unrelated',
  unrelated: 'related',
  omits: 'hover',
  completes: 'lacks',
  lacks: 'completes',
};
const HAS_SECTION = /^(?:fix|formatted|hover|inserts|refactoring|rename|saving)$/;

function spoiled(mark: Mark): Mark {
  const { verb, words } = mark;
  if (OPPOSITES[verb]) return { ...mark, verb: OPPOSITES[verb] };
  const isOfNothing = /^(?:none|nothing)$/.test(words);
  return { ...mark, words: isOfNothing ? (verb === 'offers' ? 'only ~' : '~') : `${words}~` };
}

const withMark = (read: Case, mark: Mark, other: Mark | undefined): Case => ({
  ...read,
  marks: read.marks.flatMap((one) => (one === mark ? (other ? [other] : []) : [one])),
});

/** Whatever of a case may be wrong, alone. */
function* spoiledCases(read: Case): Generator<readonly [string, Case]> {
  for (const mark of read.marks) {
    const { verb, words, range } = mark;
    const isNamed = HAS_SECTION.test(verb) && (read.after.has(nameOf(mark)) || read.hovers.has(nameOf(mark)));
    if (!isNamed) yield [`${verb} ${words}`, withMark(read, mark, spoiled(mark))];
    const end = { ...range.end, character: range.end.character + 1 };
    if (SEVERITIES.includes(verb)) {
      yield [`${verb} ${words}, too long`, withMark(read, mark, { ...mark, range: { ...range, end } })];
      yield [`without ${verb} ${words}`, withMark(read, mark, undefined)];
    }
  }
  for (const [name, texts] of read.after)
    for (const [path, text] of texts) {
      const other = new Map([...texts, [path, `${text.trimEnd()}~`]]);
      yield [`after ${name} in ${path}`, { ...read, after: new Map([...read.after, [name, other]]) }];
    }
  for (const [name, text] of read.hovers)
    yield [`hover ${name}`, { ...read, hovers: new Map([...read.hovers, [name, `${text.trimEnd()}~`]]) }];
}

it.each(oneIn(8, globSync('*/*.fettle', { cwd: import.meta.dirname }).sort()))('%s', async (file) => {
  const read = readCase(readFileSync(join(import.meta.dirname, file), 'utf8'));
  const options = { isJudged: isJudged(file) };
  expect(await servers.play(read, options)).toMatchObject({ holds: true });
  for (const [what, other] of spoiledCases(read))
    expect(await servers.play(other, options), what).toMatchObject({ holds: false });
});
