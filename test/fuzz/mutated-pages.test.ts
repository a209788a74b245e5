/** Sheets and cards of whatever a build's text has become. FETTLE_PAGES=20000 makes that many, other ones each time (or those of FETTLE_SEED). */

import { expect, it, vi } from 'vitest';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { cardHtml, cardMarkdown, cardText } from '../../packages/language/src/report/card/card.ts';
import { cardData } from '../../packages/language/src/report/card/card-data.ts';
import { gathered } from '../../packages/language/src/report/checked.ts';
import {
  comparisonJson,
  comparisonMarkdown,
  comparisonText,
} from '../../packages/language/src/report/compare/compare.ts';
import { compared } from '../../packages/language/src/report/compare/compare-data.ts';
import { explanationText } from '../../packages/language/src/report/present/explanation-text.ts';
import { Sources } from '../../packages/language/src/report/present/sources.ts';
import { sheetHtml, sheetSvg } from '../../packages/language/src/report/sheet/sheet.ts';
import { sheetData } from '../../packages/language/src/report/sheet/sheet-data.ts';
import { sheetMarkdown } from '../../packages/language/src/report/sheet/sheet-markdown.ts';
import { cases } from '../long.ts';
import { Workspace } from '../references/memory-workspace.ts';
import { pick, type Random, randomNumbers } from '../seeded.ts';
import { mutated } from './mutate.ts';
import { BUILDS, isOfSort, RAW, report, type Slip, SMALL_BUILD, SPILT } from './texts.ts';

const demanded = Number(process.env.FETTLE_PAGES ?? 0);
const TEXTS = demanded || cases(5, 12);
const SEED = demanded ? Number(process.env.FETTLE_SEED ?? Date.now() % 2 ** 31) : 20_261_129;
vi.setConfig({ testTimeout: demanded ? 24 * 3_600_000 : 120_000 });

/** With what pages show in addition: titles, notes, what is required, a curve for a mount, a second pack. */
const FULL = `${SMALL_BUILD.replace('mass: 20 g', 'mass: 20 g  drag_area: 40 cm^2').replace(/ {2}require.*\n/, '\n')}
load Cam { draw: 2 W  supply: 5 V .. 12 V  mass: 6 g }
pack Other { cells: 3S  capacity: 450 mAh  mass: 38 g }
build C "Loaded, for two bays" like B {
  load: Cam from pack
  pack: Other duty 50 %
  note preflight "arms open"
  note "kept in the loft"
  accept low-thrust because "on a string"
  require hover_time >= 3 min because "two bays and back"
  require all_up_weight <= 90 g on Other
}
`;

/** Every page of every build of a text, by name. */
async function* pagesOf(text: string, random: Random): AsyncIterable<readonly [name: string, page: string]> {
  const workspace = await Workspace.of({ 'home/mutated.fettle': text });
  if (text.includes('\0')) return;
  const document = workspace.document('home/mutated.fettle');
  const pathOf = (uri: string): string => uri.replace('file:///home/', '');
  const checked = {
    ...gathered([checkDocument(readDocument(document))], pathOf),
    sources: Sources.of([document]),
    pathOf,
  };
  for (const { message } of checked.failures) yield ['a failure', `throws ${message}`];
  for (const build of checked.builds) {
    const data = sheetData(build, checked, random() < 0.8 ? 'later' : 'now');
    yield ['sheet as html', sheetHtml(data, checked)];
    yield ['sheet as markdown', sheetMarkdown(data, checked)];
    yield ['sheet as svg', sheetSvg(data)];
    const card = [cardData(build, checked)];
    yield ['card as text', cardText(card)];
    yield ['card as markdown', cardMarkdown(card)];
    yield ['card as html', cardHtml(card)];
    const comparison = compared(build.assessments);
    if (build.assessments.length < 2) continue;
    yield ['comparison as text', comparisonText(comparison)];
    yield ['comparison as markdown', comparisonMarkdown(comparison)];
    yield ['comparison as json', comparisonJson(comparison)];
    const assessment = pick(random, build.assessments);
    const names = [...assessment.results.keys()];
    if (names.length > 0) yield ['an explanation', explanationText(pick(random, names), assessment, checked) ?? ''];
  }
}

function* slipsOn(name: string, page: string): Iterable<string> {
  const lines = page.split('\n');
  const spilt = lines.find((line) => SPILT.test(line) || line.startsWith('throws'));
  if (spilt) yield `spills in ${name}: ${SPILT.exec(spilt)?.[0] ?? ''} … ${spilt.slice(0, 300)}`;
  const raw = lines.find((line) => RAW.test(line));
  if (raw) yield `raw in ${name}: ${JSON.stringify(raw.slice(0, 300))}`;
}

it(`sheets, cards, comparisons and explanations of mutated builds print nothing that only a program can read, seed ${SEED}`, async () => {
  const random = randomNumbers(SEED);
  const slips: Slip[] = [];
  let pages = 0;
  for (let i = 0; i < TEXTS; i += 1) {
    const text = mutated([FULL, FULL, SMALL_BUILD, pick(random, BUILDS)], random);
    const found: string[] = [];
    try {
      for await (const [name, page] of pagesOf(text, random)) {
        pages += 1;
        found.push(...slipsOn(name, page));
      }
    } catch (error) {
      found.push(`throws ${error instanceof Error ? error.stack?.split('\n').slice(0, 4).join(' ') : error}`);
    }
    for (const what of found) {
      if (isOfSort(what, slips)) continue;
      slips.push({ what, text });
      if (demanded) console.log(report([{ what, text }]).join());
    }
    if (demanded && i % 500 === 0) console.log(`${i} of ${TEXTS}, ${pages} pages, ${slips.length} sorts of slips`);
  }
  expect(report(slips)).toEqual([]);
  expect(pages).toBeGreaterThan(TEXTS);
});
