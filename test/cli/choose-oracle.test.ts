/** A shortlist against brute force by the command: each candidate written down as a build, and checked in a process of its own. */

import { afterAll, describe, expect, it } from 'vitest';
import { cases } from '../long.ts';
import { randomNumbers } from '../seeded.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

const PACKS = ['Mast720_4S', 'Mast1050_4S', 'Mast1350_4S', 'Eaves1150_3S'];
const PROPELLERS = ['P3024x3', 'P4022x2'];
const PREFERENCES = ['hover_time', 'thrust_to_weight'] as const;

interface Value {
  readonly value: number;
}

interface Checked {
  readonly builds: readonly {
    readonly name: string;
    readonly options: readonly { readonly results: Readonly<Record<string, Value>> }[];
  }[];
  readonly findings: readonly { readonly build?: string; readonly severity: string; readonly accepted?: string }[];
}

interface Chosen {
  readonly candidates: number;
  readonly passing: number;
  readonly rows: readonly { readonly label: string; readonly values: readonly Value[] }[];
}

function spaceAt(seed: number) {
  const draw = randomNumbers(seed);
  const some = <T>(all: readonly T[], least: number): readonly T[] => {
    const kept = all.filter(() => draw() < 0.7);
    return kept.length >= least ? kept : all.slice(0, least);
  };
  return {
    packs: some(PACKS, 2),
    propellers: some(PROPELLERS, 2),
    duties: cases(1, 0) ? [60, 100] : [60, 80, 100],
    requirements: [
      `thrust_to_weight >= ${(2.5 + 2 * draw()).toFixed(1)}`,
      `hover_time >= ${(5 + 2 * draw()).toFixed(1)} min`,
    ],
  };
}

describe('a shortlist and fettle check', () => {
  it.each(Array.from({ length: cases(1, 10) }, (_, seed) => [seed]))(
    'agree on what passes and on the front, space %i',
    (seed) => {
      const { packs, propellers, duties, requirements } = spaceAt(seed);
      const candidates = propellers.flatMap((propeller) =>
        packs.flatMap((pack) => duties.map((duty) => ({ propeller, pack, duty }))),
      );
      const builds = candidates.map(
        ({ propeller, pack, duty }, i) => `build Tried_${i} like Spire {
  without: Mast720_4S
  without: Mast1050_4S
  without: Mast1350_4S
  motors: 4 x M1606_3150 with ${propeller}
  pack: ${pack} duty ${duty} %
${requirements.map((text) => `  require ${text}`).join('\n')}
}`,
      );
      const file = `examples/builds/tried-${seed}.fettle`;
      shop.write(file, `fettle 1\nuse "../parts"\nuse "../rules"\nuse "../stands"\n\n${builds.join('\n\n')}\n`);
      const checked: Checked = JSON.parse(shop.fettleAlone('check', file, '--format', 'json').out);
      const passing = candidates.flatMap(({ propeller, pack, duty }, i) => {
        const name = `Tried_${i}`;
        const isOut = checked.findings.some(
          (one) => one.build === name && one.severity === 'error' && one.accepted === undefined,
        );
        const results = checked.builds.find((one) => one.name === name)?.options[0]?.results;
        const values = PREFERENCES.map((of) => results?.[of]?.value);
        if (isOut || values.includes(undefined)) return [];
        return [{ label: `${propeller} · ${pack} · duty ${duty} %`, values: values.map((value) => value ?? 0) }];
      });
      const front = passing.filter(
        ({ values }) =>
          !passing.some(
            (other) =>
              other.values.every((value, i) => value >= (values[i] ?? 0)) &&
              other.values.some((value, i) => value > (values[i] ?? 0)),
          ),
      );
      const chosen: Chosen = JSON.parse(
        shop.fettleAlone(
          'choose',
          'Spire',
          ...[...propellers, ...packs, `duty 60 % .. 100 % step ${cases(40, 20)} %`].flatMap((line) => [
            '--vary',
            line,
          ]),
          ...requirements.flatMap((line) => ['--require', line]),
          ...PREFERENCES.flatMap((name) => ['--prefer', name]),
          ...['--in', 'examples/builds', '--format', 'json'],
        ).out,
      );
      expect(chosen.candidates).toBe(candidates.length);
      expect(chosen.passing).toBe(passing.length);
      const byLabel = (rows: readonly { label: string }[]) => rows.map(({ label }) => label).sort();
      expect(byLabel(chosen.rows)).toEqual(byLabel(front));
      for (const { label, values } of chosen.rows)
        for (const [i, { value }] of values.entries())
          expect(value, label).toBeCloseTo(front.find((one) => one.label === label)?.values[i] ?? Number.NaN, 4);
    },
    60_000,
  );
});
