/** Laws of what an editor shows, over random craft: hovers at every word, lenses, hints, the status, and what a save reports. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pc from 'picocolors';
import { describe, expect, it } from 'vitest';
import type { CodeLens, Hover, InlayHint } from 'vscode-languageserver-protocol';
import { Session } from '../../packages/language/src/cli/watch-command.ts';
import type { StatusAnswer } from '../../packages/language/src/editor/requests/protocol.ts';
import { toTextSince } from '../../packages/language/src/report/review/review-text.ts';
import { cases } from '../long.ts';
import { uriOf } from '../references/memory-workspace.ts';
import { broken, craftTexts, keepsLaws, type Printed, prose } from '../report/printed-words.ts';
import { MemoryServer } from './memory-server.ts';

/** `FETTLE_RANDOM_BUILDS=1000` tries that many, other ones each time. */
const demanded = Number(process.env.FETTLE_RANDOM_BUILDS ?? 0);
const BUILDS = demanded || cases(5, 10);
const SEED = demanded ? Date.now() % 2 ** 31 : 20_261_129;

const TEXTS = new Map(craftTexts(BUILDS, SEED).map((text, index) => [`osprey${index}.fettle`, text]));

/** Where a word or a number begins; of the words of one file each once. */
function* wordsIn(text: string): Iterable<{ line: number; character: number }> {
  const seen = new Set<string>();
  for (const [line, content] of text.split('\n').entries())
    for (const { 0: word, index } of content.matchAll(/[\p{L}_][\p{L}\d_]*|\d[\d.]*/gu))
      if (!seen.has(word) && seen.add(word)) yield { line, character: index };
}

const labelOf = ({ label, tooltip }: InlayHint): string =>
  [
    ...(typeof label === 'string' ? [label] : label.flatMap((part) => [part.value, String(part.tooltip ?? '')])),
    String(tooltip ?? ''),
  ].join('\n');

async function inEditor(): Promise<Printed[]> {
  const server = await MemoryServer.start(TEXTS, TEXTS);
  const printed: Printed[] = [];
  for (const [path, text] of TEXTS) {
    const textDocument = { uri: uriOf(path).toString() };
    for (const position of wordsIn(text)) {
      const hover = await server.ask<Hover | null>('textDocument/hover', { textDocument, position });
      if (hover) printed.push({ name: 'hover', text: (hover.contents as { value: string }).value });
    }
    const lenses = await server.ask<CodeLens[]>('textDocument/codeLens', { textDocument });
    for (const { command } of lenses) if (command) printed.push({ name: 'lens', text: command.title });
    const range = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };
    const hints = await server.ask<InlayHint[]>('textDocument/inlayHint', { textDocument, range });
    printed.push(...hints.map((hint) => ({ name: 'hint', text: labelOf(hint) })));
    const { builds } = await server.ask<StatusAnswer>('fettle/status', textDocument);
    for (const { text: line, details } of builds) printed.push({ name: 'status', text: [line, ...details].join('\n') });
  }
  server.stop();
  return printed;
}

/** What is reported when the pack of each craft gets a little larger. */
async function afterSaves(): Promise<Printed[]> {
  const folder = mkdtempSync(join(tmpdir(), 'fettle-saves-'));
  try {
    for (const [path, text] of TEXTS) writeFileSync(join(folder, path), text);
    const session = new Session([folder]);
    await session.begin();
    const printed: Printed[] = [];
    for (const [path, text] of TEXTS) {
      writeFileSync(
        join(folder, path),
        text.replace(/(pack Egret\d+ \{.*mass: )(\d+)/, (_, head, grams) => `${head}${Number(grams) + 25}`),
      );
      const since = (await session.refresh())?.since;
      if (since)
        printed.push({ name: 'watch', text: toTextSince('since the last save', since, pc.createColors(false)) });
    }
    return printed;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe(`what an editor shows of ${BUILDS} random craft`, async () => {
  const editor = await inEditor();
  const saves = await afterSaves();
  const words = editor.map(({ name, text }) => ({ name, text: prose(text) }));

  it('is something, in every place', () => {
    for (const place of ['hover', 'lens', 'hint', 'status'])
      expect(editor.filter(({ name }) => name === place).length, place).toBeGreaterThanOrEqual(BUILDS);
    expect(saves.length).toBe(BUILDS);
  });

  keepsLaws(words);

  it('names results as people do in lenses, hints and the status', () => {
    const short = words.filter(({ name }) => name !== 'hover');
    expect(broken(short, /\b[a-z]+_[a-z_]+\b/, () => false)).toEqual([]);
  });

  it('is advice only where the ± gets narrower in print', () => {
    const law = /It takes the ± of [^.]* from (\S+ \S+) to (\S+ \S+)\./;
    expect(broken(words, law, ([, now, then]) => now !== then)).toEqual([]);
    expect(words.some(({ text }) => law.test(text))).toBe(true);
  });

  it('adds up after a save: before and after have the digits of their difference', () => {
    const row = /(-?[\d.]+) → (-?[\d.]+)(?: \S+)?, [+-]([\d.]+) ± ([\d.]+)/;
    const decimals = (number = ''): number => number.split('.')[1]?.length ?? 0;
    expect(saves.some(({ text }) => row.test(text))).toBe(true);
    expect(broken(saves, row, ([, ...all]) => new Set(all.map(decimals)).size === 1)).toEqual([]);
    const sum = ([, before, after, difference]: RegExpExecArray): boolean =>
      Math.abs(Math.abs(Number(after) - Number(before)) - Number(difference)) < 1e-9 * Number(after) + 1e-12;
    expect(broken(saves, row, sum)).toEqual([]);
  });
});
