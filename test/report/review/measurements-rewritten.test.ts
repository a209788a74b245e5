/** What was measured and is another number now, or is only called measured; and what fails a run. */
import { describe, expect, it } from 'vitest';
import { CRAFT, FLOWN } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

const RAFTER = 'builds/rafter.fettle';
const MOTORS = 'parts/motors.fettle';
const OTHERS = 'parts/others.fettle';

describe('what was measured', () => {
  const SEEN = `  observed "gutter" with Slim900 {
    scale: 203 g
    hover_current: 9 A
  }
`;
  const withSeen = (): Change => {
    const change = new Change(CRAFT);
    return change.edit(RAFTER, '  pack: Slim900\n', `  pack: Slim900\n${SEEN}`).commit();
  };

  it('and is another number now is named', async () => {
    const change = withSeen();
    change.edit(RAFTER, 'hover_current: 9 A', 'hover_current: 8.9 A');
    expect((await change.json()).verdict.sentence).toContain('1 measurement rewritten ("gutter" of build Rafter)');
  });

  it('and is gone is a worry where it brought something to light', async () => {
    const change = withSeen();
    change.edit('rules/house.fettle', 'require all_up_weight <= 270 g', 'require hover_time >= 7.5 min').commit();
    change.edit(RAFTER, SEEN, '');
    const { sentence } = (await change.json()).verdict;
    expect(sentence).toMatch(
      /^Check before merging: 1 measurement taken away \("gutter" of build Rafter\): it hides .*estimate-gives-way$/,
    );
    expect(await change.fails('forgiven')).toBe(true);
  });

  it.each(FLOWN)('is not rewritten by another name of a part, on $on', async ({ files }) => {
    const change = new Change(files);
    change.rename('M1606_3150', 'M1606_Blue');
    const { sentence } = (await change.json()).verdict;
    expect(sentence).toBe('Nothing to worry about: no difference that the ± cannot explain');
    expect(await change.fails('forgiven')).toBe(false);
    change.rename('Mast1050_4S', 'Tower1050_4S');
    expect((await change.json()).verdict.sentence).not.toContain('rewritten');
    // Another motor on the stand is another measurement.
    change.edit('stands/stands.fettle', 'motor: M1606_Blue', 'motor: M1606_2650');
    expect((await change.json()).verdict.sentence).toContain('1 measurement rewritten (bench KitchenStand)');
  });

  it('rows and logs in files are named, too', async () => {
    const change = new Change(CRAFT);
    const rows = (last: number) => `7.9, 1.6, 27\n7.7, 4.1, 62\n7.4, 8.2, ${last}\n`;
    const log = (sag: number) =>
      `time (s),volts,amps\n${Array.from({ length: 200 }, (_, i) => `${i},${(12.5 - sag * i).toFixed(3)},${i > 9 && i < 190 ? 6.4 : 0.4}`).join('\n')}\n`;
    change
      .write({
        'parts/stand.fettle':
          'bench Kitchen {\n  motor: M1506\n  propeller: P3022\n  rows voltage in V, current in A, thrust in gf from "kitchen.csv"\n}\n',
        'parts/kitchen.csv': rows(108),
        'builds/flight.csv': log(0.003),
      })
      .edit(
        RAFTER,
        '  pack: Slim900\n',
        '  pack: Slim900\n  observed "gutter" with Slim900 {\n    log time, voltage "volts", current "amps" from "flight.csv"\n  }\n',
      )
      .commit();
    change.write({ 'parts/kitchen.csv': rows(99) });
    expect((await change.json()).verdict.sentence).toContain('1 measurement rewritten (bench Kitchen)');
    change.write({ 'parts/kitchen.csv': rows(108), 'builds/flight.csv': log(0.0037) });
    const { verdict, builds } = await change.json();
    expect(verdict.sentence).toContain('1 measurement rewritten ("gutter" of build Rafter)');
    // In addition to a worry, too.
    change.edit(MOTORS, 'rated: 3S\n', 'rated: 2S\n').edit(MOTORS, 'burst: 17 A', 'burst: 2 A');
    expect((await change.json()).verdict.sentence).toMatch(/^Stop and check: .*1 measurement rewritten/);
    expect(builds.find(({ name }: { name: string }) => name === 'Rafter').changes).toMatchObject([
      { change: 'changed', what: 'rows of flight.csv', part: { kind: 'build', name: 'Rafter' }, file: RAFTER },
    ]);
  });
});

describe('the standing of a figure', () => {
  it('called measured without rows or an observation is a worry by itself, and fails --fail-on forgiven', async () => {
    const change = new Change(CRAFT, [RAFTER]);
    change.edit(MOTORS, 'kv: 3900 rpm/V +- 3 % claimed', 'kv: 3900 rpm/V +- 3 % measured');
    expect((await change.json()).verdict).toEqual({
      worry: 'warning',
      sentence:
        'Check before merging: 1 figure called measured without rows or an observation (kv: 3900 rpm/V +- 3 % claimed → kv: 3900 rpm/V +- 3 % measured of motor M1506)',
    });
    expect(await change.fails('forgiven')).toBe(true);
  });

  it('is reported for a changed ±, with what it lowers', async () => {
    const change = new Change(CRAFT);
    change
      .edit(RAFTER, 'duty 58 %', 'duty 100 %')
      .edit(MOTORS, 'kv: 3900 rpm/V +- 3 % claimed', 'kv: 3900 rpm/V +- 1 % claimed')
      .commit();
    change.edit(MOTORS, '+- 1 % claimed', '+- 4 % claimed');
    expect((await change.json([RAFTER])).verdict.sentence).toContain(
      '1 figure with a widened ± (kv: 3900 rpm/V +- 1 % claimed → kv: 3900 rpm/V +- 4 % claimed of motor M1506)',
    );
    change.edit(MOTORS, '+- 4 % claimed', '+- 0.5 % claimed');
    expect((await change.json([RAFTER])).verdict.sentence).toContain('1 figure with a narrowed ± (');
  });

  it('that was observed is not reported', async () => {
    const change = new Change(CRAFT);
    change.edit(OTHERS, 'airframe Open152 { mass: 47 g measured', 'airframe Open152 { mass: 47 g claimed').commit();
    change
      .edit(OTHERS, 'airframe Open152 { mass: 47 g claimed', 'airframe Open152 { mass: 47 g measured')
      .edit(RAFTER, 'duty 58 %', 'duty 58 %\n  observed "on the scale" {\n    with: Slim900\n    scale: 92.3 g\n  }');
    expect((await change.json([RAFTER])).verdict.sentence).not.toContain('called measured');
  });
});

describe('a rule', () => {
  it('that allows a smaller reserve is named with what it hides', async () => {
    const change = new Change(CRAFT);
    change.edit('rules/house.fettle', 'require all_up_weight <= 270 g', 'require flight_time <= 5.5 min').commit();
    change.edit('rules/house.fettle', 'reserve: 20 %', 'reserve: 5 %');
    expect((await change.json()).verdict.sentence).toMatch(/1 rule loosened \(/);
  });
});

describe('a run that fails on what is forgiven', () => {
  it('fails where more is permitted, in addition to the other words', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'Slim700 duty 58 %', 'Slim700').edit(MOTORS, 'rated: 3S\n', 'rated: 5S\n');
    expect(await change.fails('error')).toBe(false);
    expect(await change.fails('forgiven')).toBe(true);
    expect(await change.fails('warning', 'forgiven')).toBe(true);
    change.edit(MOTORS, 'rated: 5S\n', 'rated: 3S\n');
    // Not hidden: a new error.
    expect(await change.fails('forgiven')).toBe(true);
    change.edit(RAFTER, 'pack: Slim700', 'pack: Slim700 duty 58 %').edit(MOTORS, '12.40 g', '12.50 g');
    expect(await change.fails('forgiven')).toBe(false);
  });

  it('fails at an accepted error, and at a requirement that is gone', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"');
    expect(await change.fails('forgiven')).toBe(true);
    change.commit();
    expect(await change.fails('forgiven')).toBe(false);
    change.edit('rules/house.fettle', '  require all_up_weight <= 270 g\n', '');
    expect(await change.fails('forgiven')).toBe(true);
  });
});
