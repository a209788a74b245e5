/** Laws of what is printed, over random craft and every output that people read: articles, names, digits, advice. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pc from 'picocolors';
import { afterAll, describe, expect, it } from 'vitest';
import { checkPaths } from '../../packages/language/src/cli/check-command.ts';
import { cardMarkdown, cardText } from '../../packages/language/src/report/card/card.ts';
import { cardData } from '../../packages/language/src/report/card/card-data.ts';
import type { Checked } from '../../packages/language/src/report/checked.ts';
import { comparisonText } from '../../packages/language/src/report/compare/compare.ts';
import { compared } from '../../packages/language/src/report/compare/compare-data.ts';
import { toAnnotations } from '../../packages/language/src/report/formats/annotations.ts';
import { recordedMarkdown } from '../../packages/language/src/report/formats/markdown.ts';
import { recorded } from '../../packages/language/src/report/formats/record.ts';
import { recordedText } from '../../packages/language/src/report/formats/text.ts';
import { explanationText } from '../../packages/language/src/report/present/explanation-text.ts';
import { sheetHtml } from '../../packages/language/src/report/sheet/sheet.ts';
import { sheetData } from '../../packages/language/src/report/sheet/sheet-data.ts';
import { sheetMarkdown } from '../../packages/language/src/report/sheet/sheet-markdown.ts';
import { cases } from '../long.ts';
import { broken, craftTexts, keepsLaws, type Printed, prose } from './printed-words.ts';

/** `FETTLE_RANDOM_BUILDS=1000` tries that many, other ones each time. */
const demanded = Number(process.env.FETTLE_RANDOM_BUILDS ?? 0);
const BUILDS = demanded || cases(4, 40);
const SEED = demanded ? Date.now() % 2 ** 31 : 20_261_128;

const folder = mkdtempSync(join(tmpdir(), 'fettle-words-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function outputs(): Promise<Printed[]> {
  craftTexts(BUILDS, SEED).forEach((text, index) => {
    writeFileSync(join(folder, `osprey${index}.fettle`), text);
  });
  const checked: Checked = await checkPaths([folder]);
  const records = recorded(checked, 'derivations');
  const plain = pc.createColors(false);
  const each = checked.builds.flatMap((build) => {
    const data = sheetData(build, checked);
    const [first] = build.assessments;
    const card = cardData(build, checked);
    return [
      { name: 'sheet', text: sheetMarkdown(data, checked) },
      { name: 'sheet as a page', text: sheetHtml(data, checked).replaceAll(/<style[\s\S]*?<\/style>|<[^>]*>/g, '\n') },
      { name: 'card', text: cardText([card]) },
      { name: 'card as Markdown', text: cardMarkdown([card]) },
      { name: 'comparison', text: comparisonText(compared(build.assessments)) },
      ...(['hover_time', 'thrust_to_weight', 'full_current', 'land_by_hover_voltage'] as const).map((result) => ({
        name: `explanation of ${result}`,
        text: (first && explanationText(result, first, checked)) ?? '',
      })),
    ];
  });
  return [
    { name: 'check', text: recordedText(records, plain) },
    { name: 'check as Markdown', text: recordedMarkdown(records) },
    { name: 'annotations', text: toAnnotations(records) },
    ...each,
  ];
}

describe(`what is printed of ${BUILDS} random craft`, async () => {
  const all = await outputs();
  const words = all.map(({ name, text }) => ({ name, text: prose(text) }));

  it('is something, in every output', () => {
    expect(all.length).toBeGreaterThan(BUILDS * 5);
    for (const { name, text } of all) if (!name.startsWith('explanation')) expect(text, name).toMatch(/Osprey|Egret/);
  });

  keepsLaws(words);

  it('has no advice that changes nothing', () => {
    const note = /minutes (±[^,;.]*?)(?:,|\.)[\s\S]{0,400}?minutes would then be\s+known to (±[^.]*)\./;
    expect(
      broken(words, note, ([, now = '', then = '']) => now.replaceAll(/\s+/g, ' ') !== then.replaceAll(/\s+/g, ' ')),
    ).toEqual([]);
    const sheet = /now ([\d.]+ ± [\d.]+) min, would then be known to ([\d.]+ ± [\d.]+) min/;
    expect(broken(words, sheet, ([, now, then]) => now !== then)).toEqual([]);
    expect(words.some(({ text }) => note.test(text))).toBe(true);
  });
});
