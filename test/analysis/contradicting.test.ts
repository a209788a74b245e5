/** Lines that do not go with each other: which figure would explain it; and figures that give way. */
import { describe, expect, test } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { ends } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { assessedIn, checkedIn } from '../checks/findings-in.ts';
import { flown } from './learning-craft.ts';

async function reported(text: string, id: string): Promise<string[]> {
  const { findings } = (await checkedIn({ 'a.fettle': text }))['a.fettle'] ?? { findings: [] };
  return findings.filter((finding) => finding.id === id).map(({ message }) => message);
}

describe('a line that contradicts names the figure that would explain it', () => {
  test.each([
    [
      'the recorder’s scale, where it counts more than the charger',
      ['airborne: 5 min', 'put_back: 330 mAh', 'counted: 420 mAh'],
      /charge counted 420 mAh .*; by the fit, scale of the recorder’s amperes \(1\.2\d ± 0\.\d+ in place of 1\)/,
    ],
    [
      'none, where everything else contradicts it',
      [
        'airborne: 5 min',
        'put_back: 330 mAh',
        'counted: 332 mAh',
        'hover_current: 6.2 A at 60 %',
        'hover_output: 35 % at 60 %',
      ],
      /current in hover 6\.2 A .*a slip in this line, for no one figure would explain it;/,
    ],
  ])('%s', async (_, lines, message) => {
    expect(await reported(flown(...lines), 'observed-disagrees')).toEqual([expect.stringMatching(message)]);
  });
});

test('a lone current that only the figures of the parts contradict is learnt, not doubted', async () => {
  const lone = flown('hover_current: 9 A at 60 %');
  expect(await reported(lone, 'observed-disagrees')).toEqual([]);
  expect(await reported(lone, 'estimate-gives-way')).toEqual([
    expect.stringMatching(
      /^The measurements give .* The results follow that one reading, which nothing else that was measured confirms\.$/,
    ),
  ]);
});

test('a figure that was measured before is not reported as that of a data sheet', async () => {
  expect(await reported(flown('cell_resistance: 19 mohm'), 'estimate-gives-way')).toEqual([
    expect.stringMatching(/cell resistance of Mast900_4S .*, where it was measured before as 9\.4 /),
  ]);
});

describe('two flights that contradict each other', () => {
  const flights = (...lines: readonly string[]): string =>
    `${EXAMPLE_CRAFT.trimEnd().slice(0, -1)}${lines
      .map((line, index) => `  observed "flight ${index + 1}" with Mast900_4S {\n    ${line}\n  }\n`)
      .join('')}}\n`;
  const known = new Map<string, Assessment>();
  const assessed = async (...lines: readonly string[]): Promise<Assessment> => {
    const text = flights(...lines);
    const found = known.get(text) ?? (await assessedIn({ 'a.fettle': text }))['a.fettle']?.[0]?.assessments[0];
    if (!found) throw new Error('no build');
    known.set(text, found);
    return found;
  };
  const rangeOf = ({ results }: Assessment, name: ResultId) => {
    const estimate = results.get(name)?.estimate;
    if (!estimate) throw new Error(name);
    const { low, high } = ends(estimate);
    return { low, high, width: Math.log(high / low) };
  };
  const amperes = (value: number) => `hover_current: ${value} A at 60 %`;

  test.each([
    [4, 6],
    [6, 4],
    [3.6, 5.4],
    [3.5, 9],
  ])('%f A and %f A: the ± of current and minutes includes what each would give by itself', async (one, other) => {
    const both = await assessed(amperes(one), amperes(other));
    expect(both.learnt?.doubts[0]?.figure.label).toMatch(
      /^contradiction between current in hover of “flight \d” and the other/,
    );
    for (const name of ['hover_current', 'hover_time'] as const) {
      const range = rangeOf(both, name);
      for (const alone of [one, other]) {
        const value = (await assessed(amperes(alone))).results.get(name)?.estimate.value ?? Number.NaN;
        expect(value, `${name} by ${alone} A`).toBeGreaterThan(range.low);
        expect(value, `${name} by ${alone} A`).toBeLessThan(range.high);
      }
    }
  });

  test('a whole flight against another: its lines together, though each by itself is near enough', async () => {
    const { learnt } = await assessed(whole(1), whole(1.45));
    expect(learnt?.doubts[0]?.figure.label).toMatch(/of “flight \d”|“flight \d”/);
  });

  const disagreeing = (...lines: readonly string[]) => reported(flights(...lines), 'observed-disagrees');

  test('of two currents between which nothing decides both are named, in one message', async () => {
    expect(await disagreeing(amperes(3.8), amperes(5.4))).toEqual([
      expect.stringMatching(
        /^Current in hover of “flight \d” \(\d\.\d A\) and current in hover of “flight \d” \(\d\.\d A\) contradict each other, and nothing else that was measured shows which is right\./,
      ),
    ]);
  });

  test.each([
    ['first', [6.4, 4.4, 4.5], 1],
    ['second', [4.4, 6.4, 4.5], 2],
    ['third', [4.4, 4.5, 6.4], 3],
  ])('of three the %s, which the others contradict, is named alone', async (_, currents, odd) => {
    const [message, ...others] = await disagreeing(...currents.map(amperes));
    expect(others).toEqual([]);
    expect(message).toContain(`“flight ${odd}”`);
    expect(message).not.toMatch(new RegExp(`“flight [^${odd}]”`));
  });

  const whole = (scale: number) =>
    [
      `hover_current: ${4 * scale} A at 60 %`,
      `burst_current: ${38 * scale} A`,
      'airborne: 5 min',
      `counted: ${333 * scale} mAh`,
    ].join('\n    ');

  test('a whole flight against another: the likelier is named with the other, or both', async () => {
    expect(await disagreeing(whole(1), whole(1.15))).toEqual([
      expect.stringMatching(/^“flight 1” and “flight 2” contradict each other, and nothing else/),
    ]);
    for (const scale of [1.12, 1.3])
      expect(await disagreeing(whole(1), whole(scale), whole(1.01))).toEqual([
        expect.stringMatching(/^“flight 2” as a whole does not go with /),
      ]);
  });

  test('a count against a charger: each ± includes what either would give', async () => {
    const [charged, counted] = ['put_back: 330 mAh', 'counted: 450 mAh'];
    const both = await assessed(`airborne: 5 min\n    ${charged}\n    ${counted}`);
    for (const line of [charged, counted]) {
      const alone = await assessed(`airborne: 5 min\n    ${line}`);
      for (const name of ['hover_time', 'hover_power'] as const) {
        const { low, high } = rangeOf(both, name);
        const value = alone.results.get(name)?.estimate.value ?? Number.NaN;
        expect(value, `${name} by ${line}`).toBeGreaterThan(low);
        expect(value, `${name} by ${line}`).toBeLessThan(high);
      }
    }
  });

  test('two contradictions: each ± includes all sides of both', async () => {
    const resistance = (milliohms: number) => `cell_resistance: ${milliohms} mohm`;
    const mixed = await assessed(amperes(4), amperes(6), resistance(5), resistance(14));
    expect(mixed.learnt?.doubts).toHaveLength(2);
    for (const current of [4, 6]) {
      for (const milliohms of [5, 14]) {
        const alone = await assessed(amperes(current), resistance(milliohms));
        for (const name of ['hover_time', 'hover_current', 'full_voltage', 'land_by_hover_voltage'] as const) {
          const { low, high } = rangeOf(mixed, name);
          const value = alone.results.get(name)?.estimate.value ?? Number.NaN;
          expect(value, `${name} by ${current} A and ${milliohms} mohm`).toBeGreaterThan(low);
          expect(value, `${name} by ${current} A and ${milliohms} mohm`).toBeLessThan(high);
        }
      }
    }
  });

  test('flights that agree narrow each other, as far as the instrument they share allows', async () => {
    const one = await assessed(amperes(4.4));
    const two = await assessed(amperes(4.4), amperes(4.5));
    expect(two.learnt?.doubts).toEqual([]);
    expect(rangeOf(two, 'hover_time').width).toBeLessThan(rangeOf(one, 'hover_time').width);
  });

  test('a ± grows steadily with what they differ by', async () => {
    let before = 0;
    for (let difference = 0; difference <= 0.6; difference += 0.05) {
      const { width } = rangeOf(await assessed(amperes(4.4), amperes(4.4 * Math.exp(difference))), 'hover_time');
      expect(width).toBeGreaterThan(0.98 * before);
      // Nothing jumps: a twentieth more of difference is at most as much more of width on either side, and some of what it includes at once.
      if (before > 0) expect(width - before).toBeLessThan(0.25);
      before = width;
    }
  });

  test('parts far off their page are no contradiction: one flight is believed', async () => {
    const { learnt } = await assessed(amperes(9));
    expect(learnt?.doubts).toEqual([]);
  });
});

const DUTIES = [30, 60, 100];

const standOf = (rows: readonly string[], more = ''): string =>
  `bench Stand {
  motor: M1805
  propeller: P4024x3
  rows duty in %, voltage in V, current in A, thrust in gf, speed in rpm${more} {
    ${rows.join('\n    ')}
  }
}
`;

async function learntFrom(text: string) {
  const [assessment] = (await assessedIn({ 'a.fettle': text }))['a.fettle']?.[0]?.assessments ?? [];
  if (!assessment?.learnt) throw new Error('nothing was learnt');
  return assessment.learnt;
}

/** Rows as the figures of the parts make them, but for so many times the amperes. */
const { lines: guessed } = await learntFrom(
  `${standOf(DUTIES.map((duty) => `${duty}, 15.4, ${duty / 12}, ${4 * duty}, ${280 * duty}`))}${EXAMPLE_CRAFT}`,
);
const before = (row: number, reading: string): number =>
  guessed.find((line) => line.row === row + 1 && line.reading === reading)?.before ?? Number.NaN;

const stand = (share: number, more = '', cell = ''): string =>
  standOf(
    DUTIES.map((duty, row) =>
      [
        duty,
        15.4,
        (share * before(row, 'current')).toPrecision(5),
        (before(row, 'thrust') / 9.80665e-3).toPrecision(5),
        `${((before(row, 'speed') * 30) / Math.PI).toFixed(0)}${cell}`,
      ].join(', '),
    ),
    more,
  );

describe('motor and propeller together', () => {
  test.each([
    [1.55, 'more'],
    [0.66, 'less'],
  ])('are named where rows without torque give %f of the power', async (share, word) => {
    const messages = await reported(`${stand(share)}${EXAMPLE_CRAFT}`, 'estimate-gives-way');
    expect(messages).toHaveLength(1);
    // One figure by itself, or the two in one.
    expect(messages[0]).toMatch(
      new RegExp(
        `^(On Stand motor and propeller together take \\d+ % ${word} power .* a column of torque would show which|The measurements give )`,
      ),
    );
  });

  test('are not, where rows are as expected', async () => {
    expect(await reported(`${stand(1)}${EXAMPLE_CRAFT}`, 'estimate-gives-way')).toEqual([]);
  });
});

test('how warm the motor was counts: the same amperes of a hot winding are those of less copper', async () => {
  const resistance = async (celsius: number) => {
    const { deviations, figures } = await learntFrom(
      `${stand(1, ', temperature in degC', `, ${celsius}`)}${EXAMPLE_CRAFT}`,
    );
    return deviations.get(figures.find(({ label }) => label === 'resistance of M1805')?.id ?? '');
  };
  const [cold, hot] = [await resistance(20), await resistance(130)];
  expect(cold).toBeDefined();
  expect(hot ?? 0).toBeLessThan((cold ?? 0) - 0.05);
});
