/**
 * Checks each marked case, each failing example of a page and each line that people write wrong, and prints as JSON the words in the checks
 * that none of them has reached. A process of its own: the engine counts what runs only of code that it reads while it counts. Node takes
 * types out without moving anything, so that places in what runs are places in the sources.
 */
import { globSync, readFileSync } from 'node:fs';
import { Session } from 'node:inspector/promises';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { isJudged, PATH, readCase } from './marks.ts';

const CHECKS = join(import.meta.dirname, '../../packages/language/src/checks');

async function checkAll(): Promise<void> {
  const { EXAMPLE_CRAFT } = await import('../../packages/language/src/checks/example-craft.ts');
  const { PAGES } = await import('../../packages/language/src/checks/registry.ts');
  const { checkedExample, checkedIn } = await import('../checks/findings-in.ts');
  const { place, problemsIn } = await import('../model/surroundings.ts');
  const { WRONG_LINES } = await import('../model/wrong-lines.ts');
  for (const file of globSync('*/*.fettle', { cwd: import.meta.dirname }).filter(isJudged)) {
    const { text, files } = readCase(readFileSync(join(import.meta.dirname, file), 'utf8'));
    const own = { ...Object.fromEntries(files), [PATH]: text };
    await checkedIn({ 'craft.fettle': EXAMPLE_CRAFT, ...own }, Object.keys(own));
  }
  for (const { fails } of Object.values(PAGES)) await checkedExample(fails);
  for (const wrong of WRONG_LINES) await problemsIn(place(wrong).text);
}

interface Text {
  readonly start: number;
  /** As it is read: … is computed. */
  readonly words: string;
}

function* textsIn(node: ts.Node): Generator<Text> {
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node))
    yield { start: node.getStart(), words: node.text };
  if (ts.isTemplateExpression(node)) {
    const words = [node.head.text, ...node.templateSpans.map(({ literal }) => literal.text)].join('…');
    yield { start: node.getStart(), words };
  }
  const within: ts.Node[] = [];
  node.forEachChild((child) => void within.push(child));
  for (const child of within) yield* textsIn(child);
}

/** That a person reads: names of the program are one word. */
const isForPeople = (words: string): boolean => /\p{L}/u.test(words) && words.includes(' ');

const session = new Session();
session.connect();
await session.post('Profiler.enable');
await session.post('Profiler.startPreciseCoverage', { callCount: true, detailed: true });
await checkAll();
const { result } = await session.post('Profiler.takePreciseCoverage');
const unreached: { readonly file: string; readonly line: number; readonly words: string }[] = [];
for (const { url, functions } of result) {
  const file = url.startsWith('file:') ? fileURLToPath(url) : '';
  if (!file.startsWith(CHECKS + sep)) continue;
  const text = readFileSync(file, 'utf8');
  const counts = new Uint8Array(text.length).fill(1);
  const outermostFirst = functions
    .flatMap(({ ranges }) => ranges)
    .toSorted((one, other) => one.startOffset - other.startOffset || other.endOffset - one.endOffset);
  for (const { startOffset, endOffset, count } of outermostFirst)
    counts.fill(Math.min(count, 1), startOffset, endOffset);
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  for (const { start, words } of textsIn(source))
    if (isForPeople(words) && counts[start] === 0)
      unreached.push({
        file: relative(CHECKS, file).replaceAll(sep, '/'),
        line: source.getLineAndCharacterOfPosition(start).line + 1,
        words,
      });
}
console.log(JSON.stringify(unreached));
