/** Half a file is the normal case: a hole in a healthy craft makes no false alarm, whatever has been typed so far. */
import { describe, expect, it } from 'vitest';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { TEXT_FINDINGS } from '../../packages/language/src/vocabulary/findings.ts';
import { oneIn } from '../long.ts';
import { ORDINARY, textOf } from '../ordinary-craft.ts';
import { Workspace } from '../references/memory-workspace.ts';

const typed = Workspace.of({ 'craft.fettle': '' });

/** What is stated of the craft, not of the text, and would alarm somebody; one text after the other in one workspace, as an editor does. */
async function* alarms(texts: Iterable<string>): AsyncIterable<{ readonly text: string; readonly alarm: string }> {
  const workspace = await typed;
  for (const text of texts) {
    await workspace.edit('craft.fettle', text);
    const { findings, defects } = checkDocument(readDocument(workspace.document('craft.fettle')));
    for (const { error } of defects) yield { text, alarm: error.message };
    for (const { id, severity, message } of findings) {
      if (id in TEXT_FINDINGS || (severity !== 'error' && severity !== 'warning')) continue;
      yield { text, alarm: `${id}: ${message}` };
    }
  }
}

async function expectQuiet(texts: readonly string[]): Promise<void> {
  expect(texts.length).toBeGreaterThan(5);
  const found: unknown[] = [];
  for await (const alarm of alarms(oneIn(12, texts))) found.push(alarm);
  expect(found).toEqual([]);
}

/** Where each match ends. */
const endsOf = (text: string, pattern: RegExp): number[] =>
  [...text.matchAll(pattern)].map(({ 0: match, index }) => index + match.length);

describe('typed from the top', () => {
  it.each(ORDINARY)('$name: quiet at the end of every line', async ({ text }) => {
    await expectQuiet(endsOf(text, /[^\n]+\n/g).map((end) => text.slice(0, end)));
  });

  it.each(['wren', 'belfry'] as const)('%s: quiet behind every word and sign', async (craft) => {
    const text = textOf(craft);
    await expectQuiet(endsOf(text, /[\w.%]+|"[^"]*"?|[^\s\w]/g).map((end) => text.slice(0, end)));
  });
});

interface Lines {
  /** All before the build. */
  readonly parts: string;
  readonly lines: readonly string[];
}

function buildLines(text: string): Lines {
  const start = text.indexOf('\nbuild ') + 1;
  return { parts: text.slice(0, start), lines: text.slice(start).trimEnd().split('\n') };
}

describe('one line of the build', () => {
  it.each(ORDINARY)('$name: quiet without it', async ({ text }) => {
    const { parts, lines } = buildLines(text);
    const texts = lines.flatMap((line, index) => {
      // One of two boards taken away is a mistake, not a hole; so are motors on a frame that states its rotors, and a build without its head.
      const isOneOfTwo = (pattern: RegExp) => pattern.test(line) && lines.filter((one) => pattern.test(one)).length > 1;
      const isNeeded =
        index === 0 || isOneOfTwo(/^ {2}esc: /) || (isOneOfTwo(/^ {2}\w+_motors: /) && /^ {2}rotors: /m.test(parts));
      return isNeeded ? [] : [`${parts}${lines.toSpliced(index, 1).join('\n')}\n`];
    });
    await expectQuiet(texts);
  });

  it.each(ORDINARY)('$name: quiet while it is typed', async ({ text }) => {
    const { parts, lines } = buildLines(text);
    const texts = lines.flatMap((line, index) => {
      const [, word] = /^ {2}(\w+):/.exec(line) ?? [];
      if (word === undefined) return [];
      const states = [`  ${word}`, `  ${word}:`, `  ${word}: Unknown_name`];
      return states.map((typed) => `${parts}${lines.toSpliced(index, 1, typed).join('\n')}\n`);
    });
    await expectQuiet(texts);
  });
});
