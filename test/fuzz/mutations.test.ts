/**
 * Whatever a text has become: nothing throws, loops or gets lost, and nothing that is printed contains what only a program can read. The same
 * few thousand each time; FETTLE_MUTATIONS=1000000 runs that many, other ones each time (or those of FETTLE_SEED).
 */

import { URI } from 'langium';
import pc from 'picocolors';
import { describe, expect, it, vi } from 'vitest';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { type CheckedDocument, checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { CHECK_PRINTERS } from '../../packages/language/src/cli/formats.ts';
import { type Checked, gathered } from '../../packages/language/src/report/checked.ts';
import { recorded } from '../../packages/language/src/report/formats/record.ts';
import { Sources } from '../../packages/language/src/report/present/sources.ts';
import { review } from '../../packages/language/src/report/review/review.ts';
import { reviewJson } from '../../packages/language/src/report/review/review-json.ts';
import { reviewMarkdown } from '../../packages/language/src/report/review/review-markdown.ts';
import { reviewText } from '../../packages/language/src/report/review/review-text.ts';
import { cases } from '../long.ts';
import { Workspace } from '../references/memory-workspace.ts';
import { randomNumbers } from '../seeded.ts';
import { mutated } from './mutate.ts';
import { BUILDS, isOfSort, PARTS, RAW, report, type Slip, SMALL_BUILD, SPILT } from './texts.ts';

const demanded = Number(process.env.FETTLE_MUTATIONS ?? 0);
const TEXTS = demanded || cases(600, 2_500);
const SEED = demanded ? Number(process.env.FETTLE_SEED ?? Date.now() % 2 ** 31) : 20_261_128;
if (demanded) vi.setConfig({ testTimeout: 24 * 3_600_000 });

const CANARY = 'item Canary { mass: 1 V }\n';

const wordsOf = ({ message, related, fixes, accepted }: Finding): string[] => [
  message,
  ...related.map((one) => one.message),
  ...fixes.map(({ title }) => title),
  accepted ?? '',
];

function* slipsIn(text: string, { findings, defects, elsewhere }: CheckedDocument): Iterable<string> {
  for (const { error } of defects) yield `throws ${error.stack?.split('\n').slice(0, 4).join(' ')}`;
  for (const finding of [...findings, ...elsewhere]) {
    for (const words of wordsOf(finding)) {
      if (SPILT.test(words)) yield `spills ${finding.id}: ${words}`;
    }
    if (RAW.test(finding.message)) yield `raw ${finding.id}: ${JSON.stringify(finding.message)}`;
    const { start, end } = finding.place;
    if (!(start >= 0 && end >= start)) yield `no place ${finding.id}: ${start} ${end}`;
    for (const { value, plusMinus = 0 } of finding.numbers)
      if (!Number.isFinite(value) || !Number.isFinite(plusMinus)) yield `no number ${finding.id}`;
  }
  if (findings.some(({ place }) => place.uri.endsWith('mutated.fettle') && place.end > text.length))
    yield 'place beyond the end';
}

async function* slipsInFormats(workspace: Workspace, results: readonly CheckedDocument[]): AsyncIterable<string> {
  const pathOf = (uri: string): string => uri.replace('file:///home/', '');
  const sources = Sources.of(workspace.services.shared.workspace.LangiumDocuments.all);
  const checked: Checked = { ...gathered(results, pathOf), sources, pathOf };
  const records = recorded(checked, 'results');
  for (const { message } of records.failures) yield `throws in a record: ${message}`;
  const printing = { failOn: 'error', colors: pc.createColors(false) } as const;
  for (const [format, { print }] of Object.entries(CHECK_PRINTERS)) {
    const reported = await print(records, printing);
    const spilt = reported.split('\n').find((line) => SPILT.test(line));
    if (spilt) yield `spills as ${format}: ${spilt}`;
    const raw = reported.split('\n').find((line) => RAW.test(line));
    if (raw && format !== 'json') yield `raw as ${format}: ${JSON.stringify(raw)}`;
    if (format === 'json' || format === 'sarif' || format === 'gitlab') JSON.parse(reported);
  }
}

/** Reads one mutated text after the other in a workspace that stays, with a file whose slip must always be reported. */
class Trial {
  readonly slips: Slip[] = [];
  #workspace = Workspace.of({ 'canary/canary.fettle': CANARY, 'home/mutated.fettle': '' });
  #read = 0;

  async take(text: string, withFormats: boolean): Promise<void> {
    // A workspace that has read much keeps much.
    this.#read += 1;
    if (this.#read % 5_000 === 0)
      this.#workspace = Workspace.of({ 'canary/canary.fettle': CANARY, 'home/mutated.fettle': '' });
    const workspace = await this.#workspace;
    try {
      await workspace.edit('home/mutated.fettle', text);
      const { failures } = workspace.services.shared.workspace.Loader;
      for (const { message } of failures.values()) if (message.includes('error inside')) this.#slip(message, text);
      // What is no text is refused as a file.
      if (text.includes('\0')) return;
      const result = checkDocument(readDocument(workspace.document('home/mutated.fettle')));
      for (const slip of slipsIn(text, result)) this.#slip(slip, text);
      const canary = checkDocument(readDocument(workspace.document('canary/canary.fettle')));
      if (canary.findings.length !== 1) this.#slip('a finding of another file is lost', text);
      if (withFormats) for await (const slip of slipsInFormats(workspace, [result, canary])) this.#slip(slip, text);
    } catch (error) {
      this.#slip(`throws ${error instanceof Error ? error.stack?.split('\n').slice(0, 4).join(' ') : error}`, text);
      this.#workspace = Workspace.of({ 'canary/canary.fettle': CANARY, 'home/mutated.fettle': '' });
    }
  }

  #slip(what: string, text: string): void {
    if (isOfSort(what, this.slips)) return;
    this.slips.push({ what, text });
    if (demanded) console.log(report([{ what, text }]).join());
  }
}

describe(`mutated texts, seed ${SEED}`, () => {
  it('of parts are read and checked, and reported in every format', async () => {
    const random = randomNumbers(SEED);
    const trial = new Trial();
    for (let i = 0; i < TEXTS; i += 1) {
      await trial.take(mutated(PARTS, random), i % 20 === 0);
      if (demanded && i % 10_000 === 0) console.log(`${i} of ${TEXTS}, ${trial.slips.length} sorts of slips`);
    }
    expect(report(trial.slips)).toEqual([]);
  });

  it('begin with a build that is computed to its end', async () => {
    const workspace = await Workspace.of({ 'a.fettle': SMALL_BUILD });
    const {
      builds: [small],
    } = checkDocument(readDocument(workspace.document('a.fettle')));
    expect(small?.assessments[0]?.results.get('hover_time')?.estimate.value).toBeGreaterThan(60);
  });

  it('of builds are computed', async () => {
    const random = randomNumbers(SEED + 1);
    const trial = new Trial();
    for (let i = 0; i < TEXTS / 50; i += 1)
      await trial.take(mutated([SMALL_BUILD, SMALL_BUILD, ...BUILDS], random), i % 5 === 0);
    expect(report(trial.slips)).toEqual([]);
  });

  it('are reviewed against what they were', async () => {
    const random = randomNumbers(SEED + 2);
    const slips: Slip[] = [];
    const bytes = (text: string) => new TextEncoder().encode(text);
    const tree = (text: string) => ({
      files: new Map([
        ['a.fettle', bytes(text)],
        ['b.fettle', bytes(SMALL_BUILD.replaceAll('build B', 'build C like B').split('\n').at(-2) ?? '')],
      ]),
      unread: new Map(),
      submodules: [],
    });
    for (let i = 0; i < TEXTS / 200; i += 1) {
      const text = mutated([SMALL_BUILD], random);
      const found = await review({
        root: URI.parse('file:///home'),
        base: { name: 'before', tree: tree(SMALL_BUILD) },
        head: { name: 'after', tree: tree(text) },
        isAsked: () => true,
      });
      for (const { message } of found.failures)
        if (message.includes('error inside')) slips.push({ what: message, text });
      for (const reported of [reviewJson(found), reviewMarkdown(found), reviewText(found, pc.createColors(false))]) {
        const spilt = reported.split('\n').find((line) => SPILT.test(line));
        if (spilt) slips.push({ what: spilt, text });
      }
    }
    expect(report(slips)).toEqual([]);
  });
});
