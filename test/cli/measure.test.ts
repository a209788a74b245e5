/** `fettle measure`: what to measure next, with the tools at hand. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const measure = (...args: string[]) => shop.fettle('measure', ...args);
const asked = (...args: string[]) => JSON.parse(measure(...args, '--format', 'json').out);

describe('fettle measure', () => {
  it('ranks what the tools allow, each with a sentence on how to take it', () => {
    const { code, out, err } = measure('Rafter', 'examples/builds', '--have', 'scale,charger,stopwatch');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^Rafter on \w+: hover time \d\.\d \(\d\.\d to \d\.\d\) min$/m);
    expect(out).toMatch(/^1 {2}what the charger puts back into \w+ after a flight of known length$/m);
    expect(out).toMatch(/^ {5}±2 min \d+ s → ±\d+ s, with charger, stopwatch$/m);
    expect(out).toMatch(/^ {5}Charge \w+ full, hover .*$/m);
    expect(out).toMatch(/^ {7}put_back: \d+ mAh$/m);
    expect(out).not.toContain('stand');
    // No flight past the reserve, however badly the craft is known.
    const least = Number(/hover time [\d.]+ \(([\d.]+) to [\d.]+\) min/.exec(out)?.[1]);
    const [, minutes = '', seconds = '0'] = /airborne: (\d+) min(?: (\d+) s)?/.exec(out) ?? [];
    const flown = Number(minutes) + Number(seconds) / 60;
    expect(flown).toBeGreaterThan(0.7 * least);
    expect(flown).toBeLessThan(0.9 * least);
  });

  it('never offers what changes the ± by under a tenth, and a stand only to those who have one', () => {
    const all = asked('Rafter', 'examples/builds');
    const now = all.now.plusMinus;
    expect(all.measurements.length).toBeGreaterThan(1);
    for (const { plusMinusThen, how, tools } of all.measurements) {
      expect(plusMinusThen).toBeLessThanOrEqual(0.9 * now);
      expect(how).toMatch(/^[A-Z].*\.$/);
      expect(tools).not.toContain('stand');
    }
    const sizes = all.measurements.map(({ plusMinusThen }: { plusMinusThen: number }) => plusMinusThen);
    expect(sizes).toEqual([...sizes].sort((a, b) => a - b));
    const ids = asked('Rafter', 'examples/builds', '--have', 'stand').measurements.map(({ id }: { id: string }) => id);
    expect(ids).toEqual(['stand']);
  });

  it('states the ± in the digits of the other commands', () => {
    const { now, build, pack, result } = asked('Spire', 'examples/builds');
    const { builds } = JSON.parse(shop.fettle('check', 'examples/builds', '--format', 'json').out);
    const { options } = builds.find(({ name }: { name: string }) => name === build);
    const { unit, straightLine, derivation, ...checked } = options.find((one: { pack: string }) => one.pack === pack)
      .results[result];
    expect(now).toEqual(checked);
  });

  it('proposes a capacity that counts once: as it is written into the pack, it moves no result and leaves the ± that was promised', () => {
    const before = asked('Spire', 'examples/builds', '--have', 'charger');
    const { out } = measure('Spire', 'examples/builds', '--have', 'charger');
    const [, line = ''] = /^ {7}(capacity: \d+ mAh measured)$/m.exec(out) ?? [];
    expect(out).not.toContain('observed block');
    const packs = 'examples/parts/packs.fettle';
    const text = readFileSync(join(shop.folder, packs), 'utf8');
    const pack = new RegExp(`(pack ${before.pack} [^}]*?)capacity: [^\\n]*`);
    expect(text).toMatch(pack);
    shop.write(packs, text.replace(pack, `$1${line}`));
    const after = asked('Spire', 'examples/builds', '--have', 'charger');
    shop.write(packs, text);
    const [promised] = before.measurements;
    expect(promised.id).toBe('capacity');
    expect(Math.abs(after.now.value / before.now.value - 1)).toBeLessThan(0.01);
    expect(Math.abs(after.now.plusMinus / promised.plusMinusThen - 1)).toBeLessThan(0.1);
    expect(after.measurements).toEqual([]);
  });

  it('reports that nothing at hand helps, and what would', () => {
    const { out } = measure('Wren', 'examples/builds', '--for', 'thrust_to_weight', '--have', 'scale');
    expect(out).toContain(
      'With scale no measurement narrows it by a tenth. What would: thrust, watts and speed of P1613x4',
    );
  });

  it('refuses what it does not know', () => {
    expect(measure('Rafter', 'examples/builds', '--have', 'hammer')).toMatchObject({ code: 2, out: '' });
    expect(measure('Rafter', 'examples/builds', '--for', 'beauty')).toMatchObject({
      code: 2,
      err: expect.stringContaining('there is no result beauty'),
    });
  });
});
