/** A format prints what was computed: none makes the craft be solved again. Counted, without a clock. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { check } from '../../packages/language/src/cli/check-command.ts';
import { CHECK_FORMATS, type CheckFormat } from '../../packages/language/src/cli/formats.ts';

const counts = vi.hoisted(() => ({ evaluations: 0 }));

vi.mock('../../packages/language/src/analysis/evaluate/evaluation.ts', async (importOriginal) => {
  const original = await importOriginal<typeof import('../../packages/language/src/analysis/evaluate/evaluation.ts')>();
  return {
    ...original,
    evaluate: (...given: Parameters<typeof original.evaluate>) => {
      counts.evaluations += 1;
      return original.evaluate(...given);
    },
  };
});

/** Packs that collapse at full duty, and such that sag; requirements that depend on the mass. */
const WEAK = `fettle 1
airframe Open152 { mass: 47 g measured }
propeller P3022 { diameter: 76 mm  pitch: 56 mm  blades: 3  mass: 1.5 g measured }
motor M1506 { stator: 15 x 6 mm
  kv: 3900 rpm/V claimed
  resistance: 74 mohm measured
  mass: 12.4 g measured }
esc Board32 { channels: 4  cells: 3S .. 6S  continuous: 32 A  mass: 11.3 g measured }
pack Soft { cells: 3S  capacity: 500 mAh  cell_resistance: 30 mohm measured  mass: 45 g }
pack Weak { cells: 3S  capacity: 500 mAh  cell_resistance: 60 mohm measured  mass: 45 g }
build Dipping {
  airframe: Open152
  motors: 4 x M1506 with P3022
  esc: Board32
  pack: Soft
  pack: Weak
  require all_up_weight <= 240 g
  require hover_time >= 1 min
  require thrust_to_weight >= 2
}
`;

const folder = mkdtempSync(join(tmpdir(), 'fettle-cost-'));
writeFileSync(join(folder, 'weak.fettle'), WEAK);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function run(format: CheckFormat, explain = false): Promise<{ evaluations: number; out: string }> {
  const written = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
  counts.evaluations = 0;
  try {
    await check([folder], { format, failOn: 'error', explain });
    return { evaluations: counts.evaluations, out: written.mock.calls.map(([text]) => String(text)).join('') };
  } finally {
    written.mockRestore();
  }
}

describe('check', () => {
  it('solves as often for every format as for text', async () => {
    const text = await run('text');
    expect(text.out).toContain('pack-oversag');
    expect(text.evaluations).toBeGreaterThan(2);
    for (const format of CHECK_FORMATS) {
      const { evaluations, out } = await run(format);
      expect(out, format).not.toBe('');
      expect(evaluations, format).toBe(text.evaluations);
    }
  });

  it('as JSON states how to get what takes a search, and searches on request', async () => {
    const plain = JSON.parse((await run('json')).out).builds[0].options[0];
    expect(plain.results.pack_grams_left).toBeUndefined();
    expect(plain.missing.pack_grams_left).toMatch(/^searched only on request: by `--explain`/);
    const explained = JSON.parse((await run('json', true)).out).builds[0].options[0];
    expect(explained.results.pack_grams_left.unit).toBe('g');
  });
});
