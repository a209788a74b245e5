/** A healthy craft shows no red: ordinary craft from data sheets, over the whole range, however they are written down. */
import { describe, expect, it } from 'vitest';
import type { CheckedDocument } from '../../packages/language/src/checks/run.ts';
import { oneIn } from '../long.ts';
import { ORDINARY } from '../ordinary-craft.ts';
import { checkedAlone, checkedIn } from './findings-in.ts';

const reported = ({ findings }: CheckedDocument): string[] => findings.map(({ severity, id }) => `${severity} ${id}`);

/** Every result with its ±, by name. */
function numbersOf({ builds }: CheckedDocument): Map<string, readonly number[]> {
  const results = builds[0]?.assessments[0]?.results ?? new Map();
  return new Map(
    [...results.values()].map(({ name, estimate }) => [name, [estimate.value, Math.hypot(...estimate.contributions)]]),
  );
}

function expectSame(one: CheckedDocument, other: CheckedDocument): void {
  expect(reported(one)).toEqual(reported(other));
  const numbers = numbersOf(other);
  expect(numbers.size).toBeGreaterThan(20);
  for (const [name, [value = Number.NaN, uncertainty = Number.NaN]] of numbersOf(one)) {
    const [otherValue = Number.NaN, otherUncertainty = Number.NaN] = numbers.get(name) ?? [];
    expect(Math.abs(value - otherValue), name).toBeLessThan(1e-7 * Math.abs(otherValue) + 1e-12);
    expect(Math.abs(uncertainty - otherUncertainty), name).toBeLessThan(1e-6 * otherUncertainty + 1e-12);
  }
}

describe('healthy craft', () => {
  it.each(ORDINARY)('$name: at most one note on estimates, nothing else', async ({ text }) => {
    const findings = reported(await checkedAlone(text));
    expect(findings.filter((line) => !/^(hint|information) estimates$/.test(line))).toEqual([]);
    expect(findings.length).toBeLessThanOrEqual(1);
  });

  it('together in one folder they are as quiet', async () => {
    const checked = await checkedIn(Object.fromEntries(ORDINARY.map(({ file, text }) => [file, text])));
    const findings = Object.values(checked).flatMap(reported);
    expect(findings.filter((line) => !line.endsWith(' estimates'))).toEqual([]);
    expect(findings.length).toBeLessThanOrEqual(ORDINARY.length);
  });
});

/** The lines inside a block the other way round; a rail is one line here. */
const reversedLines = (text: string): string =>
  text.replace(/^(build \w+ \{\n)([\s\S]*?)^\}/m, (_, head: string, lines: string) => {
    const reversed = lines.trimEnd().split('\n').toReversed();
    return `${head}${reversed.join('\n')}\n}`;
  });

const reversedBlocks = (text: string): string =>
  text
    .trim()
    .split(/\n(?=\w)/)
    .toReversed()
    .join('\n');

const GRAMS_PER_OUNCE = 28.349523125;
const NUMBER = String.raw`(\d+(?:\.\d+)?)`;

/** Grams as ounces or kilograms, inches as millimetres, milliampere-hours as ampere-hours: the same craft. */
const inOtherUnits = (text: string): string => {
  let isOunces = false;
  return text
    .replace(new RegExp(`${NUMBER} g\\b`, 'g'), (_, grams: string) => {
      isOunces = !isOunces;
      return isOunces ? `${Number(grams) / GRAMS_PER_OUNCE} oz` : `${Number(grams) / 1000} kg`;
    })
    .replace(new RegExp(`${NUMBER} in\\b(?! parallel)`, 'g'), (_, inches: string) => `${Number(inches) * 25.4} mm`)
    .replace(new RegExp(`${NUMBER} mAh\\b`, 'g'), (_, charge: string) => `${Number(charge) / 1000} Ah`);
};

const OTHER_WAYS = {
  'with CRLF': (text: string) => text.replaceAll('\n', '\r\n'),
  'blocks the other way round': reversedBlocks,
  'lines the other way round': reversedLines,
  'in other units': inOtherUnits,
};

describe.each(Object.entries(OTHER_WAYS).map(([way, rewritten], i) => ({ way, rewritten, i })))(
  '$way',
  ({ rewritten, i }) => {
    // Craft made of the library's parts have few figures to write in another unit.
    const different = ORDINARY.filter(({ text }) => rewritten(text) !== text);

    it.each(oneIn(4, different, i))('$name: the same findings and numbers', async ({ text }) => {
      expectSame(await checkedAlone(rewritten(text)), await checkedAlone(text));
    });

    it('is another text for nearly all', () => {
      expect(different.length).toBeGreaterThanOrEqual(ORDINARY.length - 2);
    });
  },
);
