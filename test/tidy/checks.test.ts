/** Code, registry, reference page, identifier and example of every check stay together. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CHECKS, PAGES } from '../../packages/language/src/checks/registry.ts';
import { TEXT_CHECKS } from '../../packages/language/src/checks/text/generated/text-checks.ts';
import { THRESHOLDS } from '../../packages/language/src/checks/thresholds.ts';
import {
  CRAFT_FINDINGS,
  FINDING_IDS,
  isAboutCraft,
  TEXT_FINDINGS,
} from '../../packages/language/src/vocabulary/findings.ts';

const root = join(import.meta.dirname, '../..');
const folder = join(root, 'packages/language/src/checks');

interface Source {
  readonly file: string;
  readonly text: string;
}

const sourcesIn = (path: string): Source[] =>
  readdirSync(path, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => ({ file: basename(file), text: readFileSync(join(path, file), 'utf8') }));

/** The files that contain a check: they export one. */
const checkFiles = sourcesIn(join(folder, 'craft')).filter(({ text }) => /^export const \w+: Check = \{/m.test(text));
const textCheckFiles = sourcesIn(join(folder, 'text')).filter(({ text }) =>
  /^export const \w+: TextCheck = \{/m.test(text),
);

/** What the language promised from its first version on. */
const SPINE = [
  'motor-overvoltage',
  'motor-overcurrent',
  'esc-overvoltage',
  'esc-undervoltage',
  'esc-overcurrent',
  'pack-overcurrent',
  'pack-oversag',
  'rail-undervoltage',
  'rail-overvoltage',
  'rail-overcurrent',
  'regulator-dropout',
  'overweight',
  'low-thrust',
  'high-hover-duty',
  'cannot-hover',
  'propeller-too-large',
  'bolt-mismatch',
  'pack-too-large',
  'rotor-count',
  'requirement-fails',
  'requirement-unsure',
  'unknown-name',
  'wrong-kind',
  'wrong-dimension',
  'missing-unit',
  'unknown-unit',
  'implausible-value',
  'missing-value',
  'estimates',
  'duplicate',
  'unused-use',
  'stale-acceptance',
  'like-cycle',
  'use-missing',
  'syntax',
];

describe('checks', () => {
  it('one per file, named as its finding, each in the registry', () => {
    const ofFiles = checkFiles.map(({ file }) => basename(file, '.ts')).sort();
    expect(ofFiles).toEqual(CHECKS.map(({ id }) => id).sort());
    for (const { file, text } of checkFiles) expect(text, file).toContain(`id: '${basename(file, '.ts')}'`);
    const ofTextFiles = textCheckFiles.map(({ file }) => basename(file, '.ts')).sort();
    expect(ofTextFiles).toEqual(Object.keys(TEXT_CHECKS).sort());
    for (const [key, { id }] of Object.entries(TEXT_CHECKS)) expect(id).toBe(key);
  });

  it.each(Object.values(TEXT_CHECKS))('$id is reported in its own file, or at least somewhere by readers', (check) => {
    const reports = new RegExp(`problem\\(\\s*'${check.id}'`);
    const reporting = sourcesIn(join(folder, 'text')).filter(({ text }) => reports.test(text));
    if ('isReportedByReaders' in check) expect(reporting).not.toEqual([]);
    else expect(reporting.map(({ file }) => file)).toContain(`${check.id}.ts`);
  });

  it('every identifier has its check and its page, and no other has', () => {
    const ofTheCraft = Object.keys(CRAFT_FINDINGS).filter((id) => isAboutCraft(id));
    expect(CHECKS.map(({ id }) => id)).toEqual(ofTheCraft);
    expect(Object.keys(TEXT_CHECKS).sort()).toEqual(Object.keys(TEXT_FINDINGS).sort());
    expect(Object.keys(PAGES).sort()).toEqual([...FINDING_IDS].sort());
  });

  it.each(SPINE)('%s is there', (id) => {
    expect(FINDING_IDS).toContain(id);
  });

  it.each(CHECKS)('$id begins with a sentence, and shows an example that fails and one that passes', ({ id, page }) => {
    const source = checkFiles.find(({ file }) => file === `${id}.ts`);
    expect(source?.text).toMatch(/^\/\*\* \S/);
    expect(page.fails).toMatch(/build \w+/);
    expect(page.passes).toMatch(/build \w+/);
  });

  it.each(FINDING_IDS)('%s has its reference page, as the check states it', (id) => {
    const path = join(root, 'packages/language/reference/findings', `${id}.md`);
    expect(existsSync(path)).toBe(true);
    const page = readFileSync(path, 'utf8');
    for (const reported of [PAGES[id].cause, PAGES[id].criterion, PAGES[id].remedy]) expect(page).toContain(reported);
  });

  it('folds only findings that there are, and none into itself', () => {
    for (const { id, folds = [] } of CHECKS) {
      expect(folds).not.toContain(id);
      expect(folds.filter((other) => !(other in CRAFT_FINDINGS))).toEqual([]);
    }
  });
});

describe('thresholds', () => {
  it.each(Object.entries(THRESHOLDS))('%s states its standing', (_, { standing }) => {
    expect(standing).toMatch(/^(standard|common practice|ours)$/);
  });

  it('each is read by a check', () => {
    const texts = sourcesIn(folder)
      .filter(({ file }) => file !== 'thresholds.ts')
      .map(({ text }) => text)
      .join('\n');
    for (const name of Object.keys(THRESHOLDS)) expect(texts).toContain(`THRESHOLDS.${name}`);
  });

  it('are nowhere else: no check grades or compares by a number of its own', () => {
    const found = [...sourcesIn(join(folder, 'craft')), ...sourcesIn(join(folder, 'shared'))];
    for (const { file, text } of found) {
      // What examples require is no threshold.
      const code = text.replace(/`(?:\\.|[^`\\])*`/g, '');
      const own = [...code.matchAll(/past: (-?\d[\d.e-]*)| [<>]=? (-?\d*\.\d[\d.e-]*)/g)].map(([, grade, compared]) =>
        Number(grade ?? compared),
      );
      // Of a ratio to a declared limit, one is the limit itself.
      expect(
        own.filter((value) => value !== 1),
        file,
      ).toEqual([]);
    }
  });
});
