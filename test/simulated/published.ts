/** Published rows of ten motors with their propellers, one row left out each time. */
import { BENCH_PAIRS, type BenchPair } from '../reference/motor-propeller-bench.ts';
import { type HeldBack, heldBack } from './held-back.ts';

/** A craft around the pair: only the stand's rows describe it. The meter was the board's own: amperes of a recorder. */
function textOfPair({ stator, kv, diameter, pitch, rows }: BenchPair): string {
  const [across, height] = stator;
  const blade = [`diameter: ${diameter} in`, ...(pitch === undefined ? [] : [`pitch: ${pitch} in`]), 'blades: 2'];
  return `motor Tested { stator: ${across} x ${height} mm  kv: ${kv} rpm/V }
propeller Blade { ${blade.join('  ')} }
esc Board { channels: 4  continuous: 40 A }
pack Four { cells: 4S  capacity: 5000 mAh }
bench Stand {
  motor: Tested
  propeller: Blade
  rows duty in %, thrust in gf, speed in rpm, voltage in V, current in A {
    ${rows.map(([duty, ...others]) => [100 * duty, ...others].join(', ')).join('\n    ')}
  }
}
build Craft {
  dry_mass: 900 g
  motors: 4 x Tested with Blade
  esc: Board
  pack: Four
}
`;
}

export interface HeldRow extends HeldBack {
  readonly pair: string;
  /** Of the pair, the first is 1. */
  readonly row: number;
}

/** Each row of each pair, predicted from the others. */
export async function heldRows(pairs: readonly BenchPair[] = BENCH_PAIRS): Promise<HeldRow[]> {
  const found: HeldRow[] = [];
  for (const pair of pairs) {
    const text = textOfPair(pair);
    for (const [index] of pair.rows.entries()) {
      const row = index + 1;
      const lines = await heldBack(text, ({ label }) => label.includes(`row ${row} `));
      found.push(...lines.map((line) => ({ ...line, pair: pair.name, row })));
    }
  }
  return found;
}

/** One line of the table of the validation page; in per cent. */
export interface HeldTable {
  readonly reading: string;
  /** Which rows: those between others, and those below or beyond all the others. */
  readonly rows: 'between' | 'lowest' | 'highest';
  readonly count: number;
  readonly rms: number;
  readonly plusMinus: number;
  readonly within: number;
  readonly below: number;
  readonly above: number;
}

export function tableOf(rows: readonly HeldRow[]): HeldTable[] {
  const last = new Map<string, number>();
  for (const { pair, row } of rows) last.set(pair, Math.max(row, last.get(pair) ?? 0));
  const where = ({ pair, row }: HeldRow): HeldTable['rows'] =>
    row === 1 ? 'lowest' : row === last.get(pair) ? 'highest' : 'between';
  return ['current', 'thrust', 'speed'].flatMap((reading) =>
    (['between', 'lowest', 'highest'] as const).map((which): HeldTable => {
      const held = rows.filter((one) => one.reading === reading && where(one) === which);
      const share = (of: (one: HeldRow) => boolean) => Math.round((1000 * held.filter(of).length) / held.length) / 10;
      const mean = (of: (one: HeldRow) => number) => held.reduce((sum, one) => sum + of(one), 0) / held.length;
      return {
        reading,
        rows: which,
        count: held.length,
        rms: Math.round(1000 * Math.sqrt(mean(({ error }) => error ** 2))) / 10,
        plusMinus: Math.round(2000 * mean(({ deviation }) => deviation)) / 10,
        within: share(({ far }) => Math.abs(far) <= 2),
        below: share(({ far }) => far < -2),
        above: share(({ far }) => far > 2),
      };
    }),
  );
}

if (import.meta.main) console.log(JSON.stringify(tableOf(await heldRows()), null, 2));
