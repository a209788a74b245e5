/** Half a file is the normal case: a hole in a healthy craft makes no false alarm, whatever has been typed so far. */
import { describe, expect, it } from 'vitest';
import { TEXT_FINDINGS } from '../../packages/language/src/vocabulary/findings.ts';
import { ORDINARY, textOf } from '../ordinary-craft.ts';
import { findingsIn } from './findings-in.ts';

/** What is said of the craft, not of the text, and would alarm somebody. */
async function alarms(text: string): Promise<string[]> {
  const findings = (await findingsIn({ 'craft.fettle': text }))['craft.fettle'] ?? [];
  return findings
    .filter(({ id, severity }) => !(id in TEXT_FINDINGS) && (severity === 'error' || severity === 'warning'))
    .map(({ id, message }) => `${id}: ${message}`);
}

/** Where each match ends. */
const endsOf = (text: string, pattern: RegExp): number[] =>
  [...text.matchAll(pattern)].map(({ 0: match, index }) => index + match.length);

describe('typed from the top', () => {
  it.each(ORDINARY)('$name: quiet at the end of every line', async ({ text }) => {
    for (const end of endsOf(text, /[^\n]+\n/g))
      expect(await alarms(text.slice(0, end)), text.slice(0, end)).toEqual([]);
  });

  it.each(['wren', 'belfry'] as const)('%s: quiet behind every word and sign', async (craft) => {
    const text = textOf(craft);
    for (const end of endsOf(text, /[\w.%]+|"[^"]*"?|[^\s\w]/g))
      expect(await alarms(text.slice(0, end)), text.slice(0, end)).toEqual([]);
  });
});

describe('a line gone from the middle', () => {
  it.each(ORDINARY)('$name: quiet without any one line of its build, but for a board less', async ({ text }) => {
    const start = text.indexOf('\nbuild ') + 1;
    const lines = text.slice(start).trimEnd().split('\n');
    for (const [index, line] of lines.entries()) {
      // One of two boards taken away is a mistake, not a hole.
      if (index === 0 || index === lines.length - 1 || /esc: \w+ as /.test(line)) continue;
      const without = `${text.slice(0, start)}${lines.toSpliced(index, 1).join('\n')}\n`;
      expect(await alarms(without), line).toEqual([]);
    }
  });

  it.each(['pipit', 'belfry'] as const)('%s: quiet with any one line of its build half typed', async (craft) => {
    const text = textOf(craft);
    const start = text.indexOf('\nbuild ') + 1;
    const lines = text.slice(start).trimEnd().split('\n');
    for (const [index, line] of lines.entries()) {
      const [, word] = /^ {2}(\w+):/.exec(line) ?? [];
      if (word === undefined) continue;
      for (const typed of [`  ${word}`, `  ${word}:`, `  ${word}: Unknown_name`]) {
        const half = `${text.slice(0, start)}${lines.toSpliced(index, 1, typed).join('\n')}\n`;
        expect(await alarms(half), typed).toEqual([]);
      }
    }
  });
});
