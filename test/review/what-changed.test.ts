/** What a change does to builds: scripted commits in, results, findings and causes out. Needs the build. */
import { describe, expect, it } from 'vitest';
import { CRAFT, Repository } from './repository.ts';

// biome-ignore lint/suspicious/noExplicitAny: as parsed from JSON.
const named = (list: any[], name: string): any => list.find((one) => one.name === name || one.pack === name);

describe('one figure of a shared part', () => {
  it('is reported in every build that rests on it, also through like, with its line; nothing else is assessed', () => {
    using repository = new Repository(CRAFT);
    repository.branch('change').edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g').commit();
    const { verdict, builds, work } = repository.json('--base', 'main', '--head', 'change');
    expect(verdict.worry).toBe('differences');
    expect(builds.map(({ name }: { name: string }) => name)).toEqual(['Quiet', 'Rafter']);
    const weight = named(named(builds, 'Rafter').options, 'Slim900').results.all_up_weight;
    // Four motors, each 1 g heavier, and what nobody lists goes with the mass of the parts.
    expect(weight.difference.value).toBeGreaterThanOrEqual(4);
    expect(weight.difference.value).toBeLessThan(4.2);
    // Two independent weighings of ± 0.02 g each; the ± of all other masses is common to both and is gone.
    expect(weight.difference.plusMinus).toBeGreaterThanOrEqual((4 * 0.02 * Math.SQRT2) / Math.sqrt(3));
    expect(weight.difference.plusMinus).toBeLessThan(weight.before.plusMinus / 5);
    expect(weight.beyond).toBe(true);
    for (const build of builds)
      expect(build.changes).toMatchObject([
        {
          change: 'changed',
          part: { kind: 'motor', name: 'M1506' },
          what: 'mass',
          before: '12.40 g +- 0.02 g measured',
          after: '13.40 g +- 0.02 g measured',
          file: 'parts/motors.fettle',
          range: { start: { line: 11 } },
        },
      ]);
    expect(work).toMatchInlineSnapshot(`
      {
        "assessments": 6,
        "buildsAssessed": 2,
        "buildsCompared": 2,
        "changedFiles": 1,
        "filesRead": 12,
        "shareAssessments": 0,
      }
    `);
  });

  it.each(['lamp', 'grün'])('a rail %s that comes is one change, its lines are no others', (rail) => {
    using repository = new Repository(CRAFT);
    repository
      .edit(
        'parts/others.fettle',
        '  rail video {',
        `  rail ${rail} { from: pack  type: buck  output: 5 V }\n  rail video {`,
      )
      .edit('parts/others.fettle', 'mass: 11.3 g', 'mass: 14.3 g');
    const { builds } = repository.json('--base', 'main');
    const whats = named(builds, 'Rafter').changes.map(({ what }: { what: string }) => what);
    expect(whats.sort()).toEqual(['mass', `rail ${rail}`]);
  });

  it('that a variant replaces does nothing to the variant', () => {
    using repository = new Repository(CRAFT);
    repository.edit('parts/motors.fettle', '74 mohm', '96 mohm');
    const { builds } = repository.json('--base', 'main');
    const quiet = named(builds, 'Quiet');
    expect(named(quiet.options, 'Full5S').results).toEqual({});
  });

  it('touches no build where only words to people, layout or the way of writing the file were changed', () => {
    using repository = new Repository(CRAFT);
    repository
      .edit('parts/motors.fettle', '"1506 stator"', '"1506 stator, from the drawer"')
      .edit('parts/others.fettle', 'load Camera {', '// the wide one\nload Camera {\n  note "cable to the left"\n');
    repository.write({ 'rules/house.fettle': `${CRAFT['rules/house.fettle']}`.replaceAll('\n', '\r\n') });
    const { verdict, builds, work } = repository.json('--base', 'main');
    expect(verdict.worry).toBe('none');
    expect(builds).toEqual([]);
    expect(work).toMatchObject({ changedFiles: 3, buildsCompared: 2, buildsAssessed: 0, assessments: 0 });
  });
});

describe('several figures', () => {
  it('get their shares, and the finding goes to the line that brings it', () => {
    using repository = new Repository(CRAFT);
    repository
      .edit('parts/motors.fettle', '74 mohm', '96 mohm')
      .edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %');
    const { verdict, builds } = repository.json('--base', 'main');
    expect(verdict).toMatchObject({ worry: 'error', sentence: 'Stop and check: 1 new error' });
    const rafter = named(builds, 'Rafter');
    const [limit, resistance, mass] = rafter.changes;
    expect([limit.what, resistance.what, mass.what]).toEqual(['pack Slim700', 'resistance', 'mass']);
    const whole = named(rafter.options, 'Slim900').results;
    const share = (change: { shares: Record<string, Record<string, { value: number }>> }, result: string) =>
      change.shares.Slim900?.[result]?.value ?? 0;
    expect(share(mass, 'all_up_weight')).toBeCloseTo(whole.all_up_weight.difference.value, 6);
    expect(share(resistance, 'all_up_weight')).toBe(0);
    // Small changes add up.
    const sum = share(mass, 'hover_power') + share(resistance, 'hover_power');
    expect(sum / whole.hover_power.difference.value).toBeCloseTo(1, 1);
    expect(share(limit, 'hover_power')).toBe(0);
    expect(limit.findings).toContain('motor-overvoltage');
    expect(resistance.findings ?? []).not.toContain('motor-overvoltage');
  });
});

describe('lines of a build', () => {
  it('a pack that comes, one that goes, one that is exchanged', () => {
    using repository = new Repository(CRAFT);
    repository
      .edit('builds/rafter.fettle', '  pack: Slim900\n', '')
      .edit('builds/eave.fettle', 'pack: Slim700', 'pack: Slim700\n  pack: Slim900 as Short');
    const { builds } = repository.json('--base', 'main', 'builds/rafter.fettle', 'builds/eave.fettle');
    const options = (name: string) =>
      named(builds, name).options.map(({ pack, status }: Record<string, string>) => `${pack} ${status}`);
    expect(options('Rafter')).toEqual(['Slim700 changed', 'Slim900 removed']);
    expect(options('Eave')).toEqual(['Slim700 changed', 'Short added']);
  });

  it('rules that got stricter', () => {
    using repository = new Repository(CRAFT);
    repository.edit('rules/house.fettle', '<= 270 g', '<= 215 g');
    const { verdict, builds } = repository.json('--base', 'main');
    expect(verdict.worry).toBe('error');
    const rafter = named(builds, 'Rafter');
    expect(rafter.findings[0]).toMatchObject({ status: 'new', id: 'overweight', packs: ['Slim700'] });
    expect(rafter.changes).toMatchObject([
      { what: 'require all_up_weight <= 215 g', before: 'require all_up_weight <= 270 g' },
    ]);
  });

  it('an error that is accepted with a reason, then no longer, then resolved', () => {
    using repository = new Repository(CRAFT);
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %').commit();
    repository.branch('accepted');
    repository
      .edit('builds/rafter.fettle', 'duty 100 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"')
      .commit();
    const accepted = repository.json('--base', 'main', '--head', 'accepted');
    expect(accepted.verdict.worry).not.toBe('error');
    expect(named(accepted.builds, 'Rafter').findings[0]).toMatchObject({ status: 'accepted', accepted: 'ten seconds' });
    const lapsed = repository.json('--base', 'accepted', '--head', 'main', '--direct');
    expect(lapsed.verdict.worry).toBe('error');
    repository
      .edit('builds/rafter.fettle', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"', 'duty 58 %')
      .commit();
    const resolved = repository.json('--base', 'main', '--head', 'HEAD');
    expect(named(resolved.builds, 'Rafter').findings[0]).toMatchObject({ status: 'resolved', id: 'motor-overvoltage' });
    expect(repository.review('--base', 'main').code).toBe(0);
  });
});

describe('files that come, go and move', () => {
  it('a moved part file changes nothing; a figure changed on the way is reported alone', () => {
    using repository = new Repository(CRAFT);
    repository.move('parts/motors.fettle', 'parts/drawer/motors.fettle');
    const uses = 'use "../parts"\nuse "../parts/drawer"';
    repository
      .edit('builds/rafter.fettle', 'use "../parts"', uses)
      .edit('builds/quiet.fettle', 'use "../parts"', uses)
      .edit('builds/eave.fettle', 'use "../parts"', uses);
    expect(repository.json('--base', 'main').builds).toEqual([]);
    repository.edit('parts/drawer/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    const { builds } = repository.json('--base', 'main');
    const rafter = named(builds, 'Rafter');
    expect(rafter.changes).toMatchObject([{ what: 'mass', file: 'parts/drawer/motors.fettle' }]);
    const { results } = named(rafter.options, 'Slim900');
    const { before, difference } = results.all_up_weight;
    expect(difference.plusMinus).toBeLessThan(before.plusMinus / 5);
  });

  it('a part file that goes leaves builds that name nothing', () => {
    using repository = new Repository(CRAFT);
    repository.delete('parts/motors.fettle');
    const { verdict, builds, text } = repository.json('--base', 'main');
    expect(verdict.worry).toBe('error');
    expect(text).toContainEqual(
      expect.objectContaining({ status: 'new', id: 'unknown-name', severity: 'error', file: 'builds/rafter.fettle' }),
    );
    const { results } = named(named(builds, 'Rafter').options, 'Slim900');
    expect(results.hover_time).toMatchObject({ beyond: true, before: { value: expect.any(Number) } });
    expect(results.hover_time.after).toBeUndefined();
  });

  it('a build that moves keeps its past; one that is new or gone is reported as such', () => {
    using repository = new Repository(CRAFT);
    repository.move('builds/rafter.fettle', 'builds/indoor.fettle').delete('builds/eave.fettle');
    const gable = `${CRAFT['builds/eave.fettle']}`.replaceAll('Eave', 'Gable').replace('x Old', 'x M1506');
    repository.write({ 'builds/gable.fettle': gable.replace('pack: Slim700', 'pack: Slim900') });
    repository.edit('builds/indoor.fettle', 'duty 58 %', 'duty 64 %');
    const { builds } = repository.json('--base', 'main');
    expect(named(builds, 'Rafter')).toMatchObject({
      status: 'changed',
      file: 'builds/indoor.fettle',
      movedFrom: 'builds/rafter.fettle',
    });
    expect(named(builds, 'Gable').status).toBe('added');
    expect(named(builds, 'Eave').status).toBe('removed');
  });

  it('a build that goes by another name is one build, wherever its file is now, also with a line changed on the way', () => {
    using repository = new Repository(CRAFT);
    repository
      .edit('builds/rafter.fettle', 'build Rafter "Rafter', 'build Loft "Loft')
      .edit('builds/quiet.fettle', 'like Rafter', 'like Loft')
      .move('builds/rafter.fettle', 'builds/loft.fettle');
    const { verdict, builds } = repository.json('--base', 'main');
    expect(verdict).toEqual({
      worry: 'none',
      sentence: 'Nothing to worry about: no difference that the ± cannot explain, 1 build renamed',
    });
    expect(named(builds, 'Loft')).toMatchObject({ status: 'changed', renamedFrom: 'Rafter', changes: [] });
    expect(named(builds, 'Quiet').status).toBe('changed');
    expect(builds).toHaveLength(2);
    repository.edit('builds/loft.fettle', 'duty 58 %', 'duty 60 %');
    const { out } = repository.review('--base', 'main');
    expect(out).toMatch(/^No new error or warning; 1 build differs by more than the ± can explain, 1 build renamed\n/);
    expect(out).toMatch(/^Rafter, now Loft .* builds\/loft\.fettle, moved from builds\/rafter\.fettle\n.*Slim700\n/m);
    expect(out).toMatch(/effective kV +2262 → 2340 rpm\/V/);
  });

  it('of two builds that were alike neither is taken for the one that came', () => {
    const twin = `${CRAFT['builds/eave.fettle']}`.replaceAll('Eave', 'Twin').replace(/^motor Old .*\n/m, '');
    using repository = new Repository({ ...CRAFT, 'builds/twin.fettle': twin });
    repository.edit('builds/eave.fettle', 'build Eave', 'build Gable').delete('builds/twin.fettle');
    const { builds } = repository.json('--base', 'main');
    const reported = builds.map(({ name, status }: Record<string, string>) => `${name} ${status}`);
    expect(reported.sort()).toEqual(['Eave removed', 'Gable added', 'Twin removed']);
  });

  it('a build that only comes or goes differs from nothing', () => {
    using repository = new Repository(CRAFT);
    repository.delete('builds/eave.fettle');
    const sentence = () => repository.json('--base', 'main').verdict.sentence;
    expect(sentence()).toBe('No new error or warning; 1 build removed');
    repository.write({ 'builds/gable.fettle': `${CRAFT['builds/rafter.fettle']}`.replaceAll('Rafter', 'Gable') });
    expect(sentence()).toBe('No new error or warning; 1 build added, 1 build removed');
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 60 %');
    expect(sentence()).toBe(
      'No new error or warning; 1 build differs by more than the ± can explain, 1 build added, 1 build removed',
    );
  });

  it('a file that lost a brace is reported once, as one that no longer parses, and its builds are counted once', () => {
    using repository = new Repository(CRAFT);
    repository.branch('torn').edit('builds/eave.fettle', 'mass: 11 g }', 'mass: 11 g').commit();
    const torn = repository.json('--base', 'main', '--head', 'torn');
    expect(torn.verdict).toEqual({
      worry: 'error',
      sentence: 'Stop and check: 1 new error, builds/eave.fettle no longer parses',
    });
    expect(torn.text).toMatchObject([{ status: 'new', id: 'syntax', file: 'builds/eave.fettle' }]);
    expect(torn).toMatchObject({ builds: [], buildsInAll: 3 });
    const mended = repository.json('--base', 'torn', '--head', 'main', '--direct');
    expect(mended).toMatchObject({ verdict: { worry: 'none' }, builds: [], buildsInAll: 3 });
  });

  it('a file that can be read on one side only: before it was, then it is not, and back', () => {
    using repository = new Repository(CRAFT);
    repository.branch('torn').edit('parts/motors.fettle', 'kv: 3900 rpm/V +- 3 % claimed', 'kv 3900 rpm/V').commit();
    const torn = repository.json('--base', 'main', '--head', 'torn');
    expect(torn.verdict.worry).toBe('error');
    expect(torn.text.map(({ file, status }: Record<string, string>) => [file, status])).toContainEqual([
      'parts/motors.fettle',
      'new',
    ]);
    const mended = repository.json('--base', 'torn', '--head', 'main', '--direct');
    expect(mended.verdict.worry).toBe('differences');
    expect(mended.text).toContainEqual(expect.objectContaining({ file: 'parts/motors.fettle', status: 'resolved' }));
  });
});

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
  it('that comes is a change of every build with its propeller', () => {
    using repository = new Repository(CRAFT);
    repository.write({ 'parts/stands.fettle': STAND, 'parts/kitchen.csv': WITH_STAND['parts/kitchen.csv'] });
    const { builds } = repository.json('--base', 'main');
    expect(builds.map(({ name }: { name: string }) => name).sort()).toEqual(['Eave', 'Quiet', 'Rafter']);
    expect(named(builds, 'Rafter').changes).toMatchObject([
      { change: 'added', part: { kind: 'bench', name: 'Kitchen' }, file: 'parts/stands.fettle' },
    ]);
  });

  it('whose file of rows is another one changes the builds, with the rows before and after', () => {
    using repository = new Repository(WITH_STAND);
    repository.edit('parts/kitchen.csv', '7.4, 8.2, 108', '7.4, 8.2, 70');
    const { builds, work } = repository.json('--base', 'main');
    const rafter = named(builds, 'Rafter');
    expect(named(rafter.options, 'Slim900').results.thrust_to_weight.difference.value).toBeLessThan(-0.3);
    expect(rafter.changes).toMatchObject([
      { change: 'changed', part: { kind: 'bench', name: 'Kitchen' }, what: 'rows', file: 'parts/stands.fettle' },
    ]);
    expect(rafter.changes[0].before).toContain('100, 7.4, 8.2, 108');
    expect(rafter.changes[0].after).toContain('100, 7.4, 8.2, 70');
    expect(work).toMatchObject({ changedFiles: 1, buildsCompared: 3 });
  });

  it('shares the blame for a difference, rows of a file included', () => {
    using repository = new Repository(WITH_STAND);
    repository
      .write({ 'parts/kitchen.csv': '45, 7.9, 1.6, 14\n100, 7.4, 8.2, 56\n' })
      .edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 12.60 g');
    const { builds } = repository.json('--base', 'main');
    const changes = named(builds, 'Rafter').changes;
    const share = (what: string) =>
      changes.find((change: { what: string }) => change.what === what).shares.Slim900.thrust_to_weight.value;
    const whole = named(named(builds, 'Rafter').options, 'Slim900').results.thrust_to_weight.difference.value;
    expect(share('rows') / whole).toBeGreaterThan(0.9);
    expect((share('rows') + share('mass')) / whole).toBeCloseTo(1, 1);
  });

  it('counts in a build that is changed elsewhere: the numbers are those of a check', () => {
    using repository = new Repository(WITH_STAND);
    repository.edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    const { builds } = repository.json('--base', 'main');
    const { after } = named(named(builds, 'Rafter').options, 'Slim900').results.hover_power;
    const checked = JSON.parse(repository.fettle('check', '--format', 'json', 'builds/rafter.fettle').out);
    const option = named(named(checked.builds, 'Rafter').options, 'Slim900');
    expect(after.value).toBeCloseTo(option.results.hover_power.value, 9);
  });
});

describe('a name that two folders of parts have', () => {
  it('reaches only those who see the one that was changed', () => {
    const motors = `${CRAFT['parts/motors.fettle']}`;
    using repository = new Repository({ ...CRAFT, 'shed/parts/motors.fettle': motors });
    repository.edit('shed/parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    expect(repository.json('--base', 'main').work).toMatchObject({ changedFiles: 1, buildsCompared: 0, filesRead: 2 });
  });
});

describe('an error in a part that a build rests on', () => {
  it('is reported though only the folder of the builds is reviewed; one in a part that none of them rests on is not', () => {
    using repository = new Repository({ ...CRAFT, 'drawer/spare.fettle': 'fettle 1\n\nitem Spare { mass: 3 g }\n' });
    repository.edit('drawer/spare.fettle', 'mass: 3 g', 'mass: 3 gg');
    expect(repository.json('--base', 'main', 'builds')).toMatchObject({ verdict: { worry: 'none' }, text: [] });
    repository.edit('parts/others.fettle', '78.1 g', '78.1 gg').commit();
    const { code, out } = repository.review('--base', 'HEAD~1', 'builds');
    expect(out).toMatch(/^Stop and check: 1 new error\n/);
    expect(out).toMatch(/^new error {2}unknown-unit {2}parts\/others\.fettle:\d+$/m);
    expect(code).toBe(1);
  });
});

describe('a build that cannot be judged any more', () => {
  it('has nothing resolved', () => {
    const heavy = `${CRAFT['rules/house.fettle']}`.replace('<= 270 g', '<= 150 g');
    using repository = new Repository({ ...CRAFT, 'rules/house.fettle': heavy });
    repository.edit('builds/rafter.fettle', 'airframe: Open152', 'airframe: Duct9');
    const { builds, verdict } = repository.json('--base', 'main');
    const statuses = builds.flatMap(({ findings }: { findings: { status: string }[] }) =>
      findings.map(({ status }) => status),
    );
    expect(statuses).not.toContain('resolved');
    expect(verdict.worry).toBe('error');
  });
});

describe('flights and shortlists', () => {
  const FLIGHT = (length: string, hover = '') =>
    `fettle 1\nflight Round {\n  leg: 20 s climb at 2 m/s\n  leg: ${length} at 7 m/s\n${hover}  leg: home at 7 m/s\n  leg: 40 m descent at 1.5 m/s\n}\n`;
  const flying = () => {
    const repository = new Repository(CRAFT);
    repository
      .write({ 'parts/flights.fettle': FLIGHT('200 m') })
      .edit('builds/rafter.fettle', '  pack: Slim900\n', '  pack: Slim900\n  flight: Round\n')
      .commit();
    return repository;
  };

  it('a longer leg: what the flight leaves, when to turn back, and what is taken by the end of each leg', () => {
    using repository = flying();
    repository.write({ 'parts/flights.fettle': FLIGHT('600 m', '  leg: 30 s hover\n') });
    const rafter = named(repository.json('--base', 'HEAD').builds, 'Rafter');
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
    const printed = repository.review('--base', 'HEAD').out;
    expect(printed).toMatch(/charge left, Round +\d+(\.\d+)? → \d+/);
    expect(printed).toMatch(/turn back at, Round/);
    expect(repository.review('--base', 'HEAD', '--format', 'markdown').out).toMatch(
      /Taken by the end of each leg of `Round`:\n\n\| \| `Slim900` \| `Slim700` \|\n(.*\n)+\| 2\. 600 m at 7 m\/s \| \d+ → \d+ mAh \|/,
    );
  });

  it('another pack: what it does to the reserve of the flight', () => {
    using repository = flying();
    repository.edit('parts/others.fettle', '900 mAh claimed', '800 mAh claimed');
    const rafter = named(repository.json('--base', 'HEAD').builds, 'Rafter');
    expect(named(rafter.options, 'Slim900').results['flight.Round.charge_left'].beyond).toBe(true);
  });

  it('what a shortlist tries, requires and prefers is reported, although no craft depends on it', () => {
    using repository = new Repository(CRAFT);
    const list = (prefer: string, more = '') =>
      `fettle 1\nuse "../parts"\nshortlist Choice {\n  for: Rafter\n  vary: Slim900\n${more}  prefer: ${prefer}\n}\n`;
    repository.write({ 'builds/choice.fettle': list('hover_time') }).commit();
    repository.write({ 'builds/choice.fettle': list('price', '  vary: duty 70 % .. 100 %\n') });
    const { verdict, builds, shortlists } = repository.json('--base', 'HEAD');
    expect(builds).toEqual([]);
    expect(verdict.sentence).toContain('1 shortlist changed');
    expect(shortlists).toMatchObject([
      { change: 'added', part: { kind: 'shortlist', name: 'Choice' }, after: 'duty 70 % .. 100 %' },
      { change: 'changed', what: 'prefer', before: 'hover_time', after: 'price', file: 'builds/choice.fettle' },
    ]);
    expect(repository.review('--base', 'HEAD').out).toContain('prefer of shortlist Choice: hover_time → price');
    repository.delete('builds/choice.fettle');
    expect(repository.json('--base', 'HEAD').shortlists).toMatchObject([
      { change: 'removed', part: { name: 'Choice' } },
    ]);
  });
});
