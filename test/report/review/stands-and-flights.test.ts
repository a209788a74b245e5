/** What a change does through a test stand, a flight or a shortlist. */
import { describe, expect, it } from 'vitest';
import { assess, parse } from '../../../packages/language/src/index.ts';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

// biome-ignore lint/suspicious/noExplicitAny: as parsed from JSON.
const named = (list: any[], name: string): any => list.find((one) => one.name === name || one.pack === name);

const STAND = `fettle 1
bench Kitchen {
  motor: M1506
  propeller: P3022
  air: 15 degC
  rows duty in %, voltage in V, current in A, thrust in gf from "kitchen.csv"
}
`;
const WITH_STAND = {
  ...CRAFT,
  'parts/stands.fettle': STAND,
  'parts/kitchen.csv': '45, 7.9, 1.6, 27\n100, 7.4, 8.2, 108\n',
};

describe('a test stand, which no build names', () => {
  it('that comes is a change of every build with its propeller', async () => {
    const change = new Change(CRAFT);
    change.write({ 'parts/stands.fettle': STAND, 'parts/kitchen.csv': WITH_STAND['parts/kitchen.csv'] });
    const { builds } = await change.json();
    expect(builds.map(({ name }: { name: string }) => name).sort()).toEqual(['Eave', 'Quiet', 'Rafter']);
    expect(named(builds, 'Rafter').changes).toMatchObject([
      { change: 'added', part: { kind: 'bench', name: 'Kitchen' }, file: 'parts/stands.fettle' },
    ]);
  });

  it('whose file of rows is another one changes the builds, with the rows before and after', async () => {
    const change = new Change(WITH_STAND);
    change.edit('parts/kitchen.csv', '7.4, 8.2, 108', '7.4, 8.2, 70');
    const { builds, work } = await change.json();
    const rafter = named(builds, 'Rafter');
    expect(named(rafter.options, 'Slim900').results.thrust_to_weight.difference.value).toBeLessThan(-0.3);
    expect(rafter.changes).toMatchObject([
      { change: 'changed', part: { kind: 'bench', name: 'Kitchen' }, what: 'rows', file: 'parts/stands.fettle' },
    ]);
    expect(rafter.changes[0].before).toContain('100, 7.4, 8.2, 108');
    expect(rafter.changes[0].after).toContain('100, 7.4, 8.2, 70');
    expect(work).toMatchObject({ changedFiles: 1, buildsCompared: 3 });
  });

  it('shares the blame for a difference, rows of a file included', async () => {
    const change = new Change(WITH_STAND);
    change
      .write({ 'parts/kitchen.csv': '45, 7.9, 1.6, 14\n100, 7.4, 8.2, 56\n' })
      .edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 12.60 g');
    const { builds } = await change.json();
    const changes = named(builds, 'Rafter').changes;
    const share = (what: string) =>
      changes.find((change: { what: string }) => change.what === what).shares.Slim900.thrust_to_weight.value;
    const whole = named(named(builds, 'Rafter').options, 'Slim900').results.thrust_to_weight.difference.value;
    expect(share('rows') / whole).toBeGreaterThan(0.9);
    expect((share('rows') + share('mass')) / whole).toBeCloseTo(1, 1);
  });

  it('counts in a build that is changed elsewhere: the numbers are those of a check', async () => {
    const change = new Change(WITH_STAND);
    change.edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    const { builds } = await change.json();
    const { after } = named(named(builds, 'Rafter').options, 'Slim900').results.hover_power;
    const option = named(named([...assess(await parse(change.files))], 'Rafter').options, 'Slim900');
    expect(after.value).toBeCloseTo(option.results.hover_power.value, 9);
  });
});

describe('flights and shortlists', () => {
  const FLIGHT = (length: string, hover = '') =>
    `fettle 1\nflight Round {\n  leg: 20 s climb at 2 m/s\n  leg: ${length} at 7 m/s\n${hover}  leg: home at 7 m/s\n  leg: 40 m descent at 1.5 m/s\n}\n`;
  const flying = () => {
    const change = new Change(CRAFT);
    change
      .write({ 'parts/flights.fettle': FLIGHT('200 m') })
      .edit('builds/rafter.fettle', '  pack: Slim900\n', '  pack: Slim900\n  flight: Round\n')
      .commit();
    return change;
  };

  it('a longer leg: what the flight leaves, when to turn back, and what is taken by the end of each leg', async () => {
    const change = flying();
    change.write({ 'parts/flights.fettle': FLIGHT('600 m', '  leg: 30 s hover\n') });
    const rafter = named((await change.json()).builds, 'Rafter');
    const option = named(rafter.options, 'Slim900');
    const { before, after, difference, beyond } = option.results['flight.Round.charge_left'];
    expect(beyond).toBe(true);
    expect(after.value - before.value).toBeCloseTo(difference.value, 5);
    expect(difference.value).toBeLessThan(-difference.plusMinus);
    const [{ name, legs }] = option.flights;
    expect(name).toBe('Round');
    // biome-ignore lint/suspicious/noExplicitAny: as parsed from JSON.
    expect(legs.map((leg: any) => leg.text)).toEqual([
      '20 s climb at 2 m/s',
      '600 m at 7 m/s',
      '30 s hover',
      'home at 7 m/s',
      '40 m descent at 1.5 m/s',
    ]);
    // The climb is as before; the leg that is new has nothing before it; the last takes what the flight takes.
    expect(legs[0].before.value).toBe(legs[0].after.value);
    expect(legs[2].before).toBeUndefined();
    expect(legs[1].after.value).toBeGreaterThan(legs[1].before.value);
    expect(legs[4].after.value).toBeCloseTo(option.results['flight.Round.charge'].after.value, 3);
    expect(legs[4].before.value).toBeCloseTo(option.results['flight.Round.charge'].before.value, 3);
    const printed = await change.text();
    expect(printed).toMatch(/charge left, Round +\d+(\.\d+)? → \d+/);
    expect(printed).toMatch(/turn back at, Round/);
    expect(await change.markdown()).toMatch(
      /Taken by the end of each leg of `Round`:\n\n\| \| `Slim900` \| `Slim700` \|\n(.*\n)+\| 2\. 600 m at 7 m\/s \| \d+ → \d+ mAh \|/,
    );
  });

  it('another pack: what it does to the reserve of the flight', async () => {
    const change = flying();
    change.edit('parts/others.fettle', '900 mAh claimed', '800 mAh claimed');
    const rafter = named((await change.json()).builds, 'Rafter');
    expect(named(rafter.options, 'Slim900').results['flight.Round.charge_left'].beyond).toBe(true);
  });

  it('what a shortlist tries, requires and prefers is reported, although no craft depends on it', async () => {
    const change = new Change(CRAFT);
    const list = (prefer: string, more = '') =>
      `fettle 1\nuse "../parts"\nshortlist Choice {\n  for: Rafter\n  vary: Slim900\n${more}  prefer: ${prefer}\n}\n`;
    change.write({ 'builds/choice.fettle': list('hover_time') }).commit();
    change.write({ 'builds/choice.fettle': list('price', '  vary: duty 70 % .. 100 %\n') });
    const { verdict, builds, shortlists } = await change.json();
    expect(builds).toEqual([]);
    expect(verdict.sentence).toContain('1 shortlist changed');
    expect(shortlists).toMatchObject([
      { change: 'added', part: { kind: 'shortlist', name: 'Choice' }, after: 'duty 70 % .. 100 %' },
      { change: 'changed', what: 'prefer', before: 'hover_time', after: 'price', file: 'builds/choice.fettle' },
    ]);
    expect(await change.text()).toContain('prefer of shortlist Choice: hover_time → price');
    change.delete('builds/choice.fettle');
    expect((await change.json()).shortlists).toMatchObject([{ change: 'removed', part: { name: 'Choice' } }]);
  });
});
