/** Lines that do not go with each other: which figure would explain it; and figures that give way. */
import { describe, expect, test } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { checkedIn } from '../checks/findings-in.ts';

const flown = (...lines: readonly string[]): string =>
  `${EXAMPLE_CRAFT.trimEnd().slice(0, -1)}  observed "granary" with Mast900_4S {\n    ${lines.join('\n    ')}\n  }\n}\n`;

async function told(text: string, id: string): Promise<string[]> {
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
      'none, where everything else speaks against it',
      [
        'airborne: 5 min',
        'put_back: 330 mAh',
        'counted: 332 mAh',
        'hover_current: 6.2 A at 60 %',
        'hover_output: 35 % at 60 %',
      ],
      /current in hover 6\.2 A .*a slip in this line, for no one figure would explain it;/,
    ],
    [
      'the propeller, of a lone current',
      ['hover_current: 9 A at 60 %'],
      /current in hover 9 A .*; by the fit, (thrust|power) coefficient of P4024x3 \(/,
    ],
  ])('%s', async (_, lines, message) => {
    expect(await told(flown(...lines), 'observed-disagrees')).toEqual([expect.stringMatching(message)]);
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
  const [assessment] = (await checkedIn({ 'a.fettle': text }))['a.fettle']?.builds[0]?.assessments ?? [];
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
    const messages = await told(`${stand(share)}${EXAMPLE_CRAFT}`, 'estimate-gives-way');
    expect(messages).toHaveLength(1);
    // One figure by itself, or the two in one.
    expect(messages[0]).toMatch(
      new RegExp(
        `^(On Stand motor and propeller together take \\d+ % ${word} power .* a column of torque would tell which|The measurements give )`,
      ),
    );
  });

  test('are not, where rows are as expected', async () => {
    expect(await told(`${stand(1)}${EXAMPLE_CRAFT}`, 'estimate-gives-way')).toEqual([]);
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
