import { describe, expect, test } from 'vitest';
import { derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { RESULTS } from '../../packages/language/src/vocabulary/results.ts';
import { CRAFT } from './explained-craft.ts';
import { asPrinted, baseOf, COPPER, exactly, FORMS, ROOM, rail, sumOf, Terms, TURN } from './explained-sums.ts';

/** Every result of every craft; a title that names what went wrong costs a test each. */
const explained = CRAFT.flatMap(({ title, assessment }) =>
  [...assessment.results.values()].map((result) => {
    const derivation = derivationOf(result.name, assessment);
    if (!derivation) throw new Error(`${result.name} of ${title} does not explain itself`);
    return { title, result, derivation };
  }),
);

const names = [...new Set(explained.map(({ result }) => result.name))];

test('the craft have every result and every form of a formula', () => {
  // A sum of prices is shown in `price.test.ts`.
  expect(RESULTS.map(({ name }) => name).filter((name) => name !== 'price' && !names.includes(name))).toEqual([]);
  const formulas = [...new Set(explained.map(({ derivation }) => derivation.formula))];
  for (const formula of Object.keys(rail)) expect(formulas).toContain(formula);
  expect(
    explained.some(({ derivation }) => derivation.terms.some(({ symbol, value }) => symbol === 'f' && value !== 1)),
  ).toBe(true);
  expect(FORMS.filter((form) => !formulas.some((formula) => formula.includes(form)))).toEqual([]);
});

describe.each(names)('%s', (name) => {
  const own = explained.filter(({ result }) => result.name === name);

  test('is the sum of its terms', () => {
    const sum = sumOf(name);
    if (!sum) throw new Error(`no sum for ${name}`);
    for (const { title, result, derivation } of own) {
      const { value } = result.estimate;
      const found = sum(new Terms(derivation, exactly));
      expect(Math.abs(found - value), `${title}: ${found} for ${value}`).toBeLessThanOrEqual(
        1e-6 * Math.abs(value) + 1e-12,
      );
    }
  });

  test('is the sum of what is printed, to the digits that are printed', () => {
    for (const { title, result, derivation } of own) {
      const { value } = result.estimate;
      const found = sumOf(name)?.(new Terms(derivation, asPrinted)) ?? Number.NaN;
      const room = Math.max(expanded(result.estimate) / 2, 0.01 * Math.abs(value));
      expect(Math.abs(found - value), `${title}: ${found} for ${value}`).toBeLessThanOrEqual(room);
    }
  });
});

// ---- what is between the figures and the formula ----

/** A sum inside a label; its numbers have four digits. */
const SUMS_IN_LABELS: readonly { readonly pattern: RegExp; readonly of: (...numbers: number[]) => number }[] = [
  {
    pattern: /^bus voltage .*: ([\d.]+)·([\d.]+) V − ([\d.]+) A·\(([\d.]+)·([\d.]+) \+ ([\d.]+) mohm\)$/,
    of: (_, s = 0, u = 0, i = 0, sAgain = 0, r = 0, lead = 0) => s * u - i * (sAgain * r + lead) * 1e-3,
  },
  {
    pattern: /^into .*: ([\d.]+) V·([\d.]+) A \/ \(([\d.]+)·V\)(?: \+ ([\d.]+) A)?$/,
    of: (bus = 0, v = 0, i = 0, efficiency = 1, own = 0) => (v * i) / (efficiency * bus) + own,
  },
  { pattern: /^into .*: ([\d.]+) A(?: \+ ([\d.]+) A)?$/, of: (_, i = 0, own = 0) => i + own },
  { pattern: /: ([\d.]+) W \/ V$/, of: (bus = 0, power = 0) => power / bus },
  { pattern: /^voltage of the full pack at rest: (\d+)·([\d.]+) V$/, of: (_, s = 0, u = 0) => s * u },
];

test('sums inside labels add up to the number before them', () => {
  const unused = new Set(SUMS_IN_LABELS);
  for (const { title, derivation } of explained) {
    const terms = new Terms(derivation, exactly);
    const bus = terms.has('V') ? terms.of('V') : Number.NaN;
    for (const { label, value, symbol } of derivation.terms) {
      const sum = SUMS_IN_LABELS.find(({ pattern }) => pattern.test(label));
      if (!sum) continue;
      unused.delete(sum);
      const numbers = (sum.pattern.exec(label) ?? []).slice(1).map((text) => Number(text ?? 0));
      // Where no ripple is left the formula needs no bus voltage.
      if (sum.of(1, ...numbers) !== sum.of(2, ...numbers) && Number.isNaN(bus)) continue;
      expect(Math.abs(sum.of(bus || 1, ...numbers) / value - 1), `${title}: ${symbol}, ${label}`).toBeLessThan(1e-3);
    }
  }
  expect([...unused]).toEqual([]);
});

test('a rail behind another draws what its own results state', () => {
  let found = 0;
  for (const { derivation } of explained) {
    const terms = new Terms(derivation, exactly);
    for (const [, n = ''] of derivation.terms.flatMap(({ symbol }) => [/^I_in(\d*)$/.exec(symbol) ?? []])) {
      const numbered = (symbol: string) => (n === '' || symbol.includes('_') ? `${symbol}${n}` : `${symbol}_${n}`);
      if (!terms.has(`I_in${n}`)) continue;
      const own = terms.has(numbered('I_own')) ? terms.of(numbered('I_own')) : 0;
      const through = terms.has(numbered('η'))
        ? (terms.of(numbered('V_r')) * terms.of(numbered('I_r'))) / (terms.of(numbered('η')) * terms.of('V'))
        : terms.of(numbered('I_r'));
      terms.agree(terms.of(`I_in${n}`), through + own);
      found += 1;
    }
  }
  expect(found).toBeGreaterThan(2);
});

test('motor and propeller balance at the speed that is printed', () => {
  const balanced = explained.filter(({ derivation }) => derivation.terms.some(({ symbol }) => symbol === 'P_0'));
  expect(new Set(balanced.map(({ result }) => result.name)).size).toBeGreaterThan(4);
  for (const { derivation } of balanced) {
    const terms = new Terms(derivation, exactly);
    const of = (symbol: string) => terms.of(symbol);
    const i = terms.has('i') ? of('i') : (terms.all('i')[0] ?? Number.NaN);
    const back = of('ω') / of('K');
    terms.agree(of('X'), (1.05 * of('p') * of('L') * of('ω')) / 4);
    terms.agree(of('R_w'), of('R') * (1 + COPPER * (of('T_w') - ROOM)));
    terms.agree(of('P_s'), of('C_P') * of('ρ') * (of('ω') / TURN) ** 3 * of('D') ** 5);
    terms.agree(of('P_0'), of('i_0') * (0.5 + (0.5 * of('ω')) / of('ω_0')) * back);
    if (terms.has('i')) terms.agree(i * back + (1 - of('s')) * of('X') * i ** 2, of('P_s') + of('P_0'));
    if (terms.has('v')) terms.agree(of('v'), back + i * (of('R_w') + of('X')));
  }
});

test('a cell as it is used is the cell of the file times what is stated of charge, cold, age and its neighbours', () => {
  let factors = new Set<string>();
  for (const { derivation } of explained) {
    const terms = new Terms(derivation, exactly);
    const label = derivation.terms.find(({ symbol }) => symbol === 'r(z)')?.label ?? '';
    if (label === '') continue;
    const times = [...label.matchAll(/·([\d.]+) (at this charge|at T_pack|with age)/g)];
    factors = new Set([...factors, ...times.map(([, , why = '']) => why)]);
    const sideBySide = Number(/ \/ (\d+) side by side/.exec(label)?.[1] ?? 1);
    const product = times.reduce((product, [, factor]) => product * Number(factor), terms.of('r'));
    terms.agree(terms.of('r(z)'), product / sideBySide, 1e-3);
    if (terms.has('r_l')) {
      const row = derivation.terms.find(({ symbol }) => symbol === 'r_l')?.label ?? '';
      const leads = [...row.matchAll(/([\d.]+) mohm/g)].reduce((sum, [, one]) => sum + Number(one) * 1e-3, 0);
      terms.agree(leads, terms.of('r_l'), 1e-3);
    }
  }
  expect([...factors].sort()).toEqual(['at T_pack', 'at this charge', 'with age']);
});

/** Words and constants in formulas that are no terms. */
const NO_TERMS = new Set([
  'g',
  'π',
  'Σ',
  'min',
  'max',
  'tan',
  'where',
  'with',
  'over',
  'all',
  'but',
  'the',
  'pack',

  'x_f',
]);

test('every symbol of a formula is among the terms, or left of an equals sign', () => {
  for (const { title, result, derivation } of explained) {
    if (result.name === 'pack_grams_left' || result.name === 'dry_mass') continue;
    const { formula } = derivation;
    const named = new Set([...formula.matchAll(/([\p{L}_\d]+) (?:=|where) /gu)].map(([, symbol]) => symbol));
    const symbols = formula.replace('°C', '').match(/T\/W|(?:\p{L}\p{M}*)+(?:_[\p{L}\d]+)?(?:\(z\))?/gu) ?? [];
    const has = new Set(derivation.terms.flatMap(({ symbol }) => [symbol, baseOf(symbol), `${baseOf(symbol)}_i`]));
    const lacking = symbols.filter((symbol) => !has.has(symbol) && !named.has(symbol) && !NO_TERMS.has(symbol));
    expect(lacking, `${result.name} of ${title}: ${formula}`).toEqual([]);
  }
});

test('the terms of a rail are those of its kind, and its input is what feeds it', () => {
  const symbolsOf = (title: string, name: string) =>
    explained
      .find((one) => one.title === title && one.result.name === name)
      ?.derivation.terms.map(({ symbol, result }) => (result ? `${symbol} is ${result}` : symbol));
  const of = (name: string) => symbolsOf('Mixed on Three', name);
  expect(of('rail.video.voltage')).toEqual(['V_out', 'V_drop', 'V_in']);
  expect(of('rail.Up.burst_voltage')).toEqual(['V_out', 'V_in is rail.video.burst_voltage']);
  expect(of('rail.Burner.voltage')).toEqual(['V_out', 'V_drop', 'V_in is rail.High.voltage']);
  expect(of('rail.Either.voltage')).toEqual(['V_out']);
  expect(of('rail.Burner.current')).toEqual(['I_load']);
  expect(of('rail.High.current')).toEqual(['I_in', 'I_r is rail.Burner.current', 'I_own']);
});
