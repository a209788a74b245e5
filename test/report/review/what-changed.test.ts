/** What a change does to builds: scripted commits in, results, findings and causes out. */
import { describe, expect, it } from 'vitest';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

// biome-ignore lint/suspicious/noExplicitAny: as parsed from JSON.
const named = (list: any[], name: string): any => list.find((one) => one.name === name || one.pack === name);

describe('one figure of a shared part', () => {
  it('is reported in every build that rests on it, also through like, with its line; nothing else is assessed', async () => {
    const change = new Change(CRAFT);
    change.edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    const { verdict, builds, work } = await change.json();
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

  it.each(['lamp', 'grün'])('a rail %s that comes is one change, its lines are no others', async (rail) => {
    const change = new Change(CRAFT);
    change
      .edit(
        'parts/others.fettle',
        '  rail video {',
        `  rail ${rail} { from: pack  type: buck  output: 5 V }\n  rail video {`,
      )
      .edit('parts/others.fettle', 'mass: 11.3 g', 'mass: 14.3 g');
    const { builds } = await change.json();
    const whats = named(builds, 'Rafter').changes.map(({ what }: { what: string }) => what);
    expect(whats.sort()).toEqual(['mass', `rail ${rail}`]);
  });

  it('that a variant replaces does nothing to the variant', async () => {
    const change = new Change(CRAFT);
    change.edit('parts/motors.fettle', '74 mohm', '96 mohm');
    const { builds } = await change.json();
    const quiet = named(builds, 'Quiet');
    expect(named(quiet.options, 'Full5S').results).toEqual({});
  });

  it('touches no build where only words to people, layout or the way of writing the file were changed', async () => {
    const change = new Change(CRAFT);
    change
      .edit('parts/motors.fettle', '"1506 stator"', '"1506 stator, from the drawer"')
      .edit('parts/others.fettle', 'load Camera {', '// the wide one\nload Camera {\n  note "cable to the left"\n');
    change.write({ 'rules/house.fettle': `${CRAFT['rules/house.fettle']}`.replaceAll('\n', '\r\n') });
    const { verdict, builds, work } = await change.json();
    expect(verdict.worry).toBe('none');
    expect(builds).toEqual([]);
    expect(work).toMatchObject({ changedFiles: 3, buildsCompared: 2, buildsAssessed: 0, assessments: 0 });
  });
});

describe('several figures', () => {
  it('get their shares, and the finding goes to the line that brings it', async () => {
    const change = new Change(CRAFT);
    change
      .edit('parts/motors.fettle', '74 mohm', '96 mohm')
      .edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %');
    const { verdict, builds } = await change.json();
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
  it('a pack that comes, one that goes, one that is exchanged', async () => {
    const change = new Change(CRAFT);
    change
      .edit('builds/rafter.fettle', '  pack: Slim900\n', '')
      .edit('builds/eave.fettle', 'pack: Slim700', 'pack: Slim700\n  pack: Slim900 as Short');
    const { builds } = await change.json(['builds/rafter.fettle', 'builds/eave.fettle']);
    const options = (name: string) =>
      named(builds, name).options.map(({ pack, status }: Record<string, string>) => `${pack} ${status}`);
    expect(options('Rafter')).toEqual(['Slim700 changed', 'Slim900 removed']);
    expect(options('Eave')).toEqual(['Slim700 changed', 'Short added']);
  });

  it('rules that got stricter', async () => {
    const change = new Change(CRAFT);
    change.edit('rules/house.fettle', '<= 270 g', '<= 215 g');
    const { verdict, builds } = await change.json();
    expect(verdict.worry).toBe('error');
    const rafter = named(builds, 'Rafter');
    expect(rafter.findings[0]).toMatchObject({ status: 'new', id: 'overweight', packs: ['Slim700'] });
    expect(rafter.changes).toMatchObject([
      { what: 'require all_up_weight <= 215 g', before: 'require all_up_weight <= 270 g' },
    ]);
  });

  it('an error that is accepted with a reason, then no longer, then resolved', async () => {
    const change = new Change(CRAFT);
    change.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %').commit();
    change.edit('builds/rafter.fettle', 'duty 100 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"');
    const accepted = await change.json();
    expect(accepted.verdict.worry).not.toBe('error');
    expect(named(accepted.builds, 'Rafter').findings[0]).toMatchObject({ status: 'accepted', accepted: 'ten seconds' });
    const lapsed = await change.turn().json();
    expect(lapsed.verdict.worry).toBe('error');
    change.commit().edit('builds/rafter.fettle', 'duty 100 %', 'duty 58 %');
    const resolved = await change.json();
    expect(named(resolved.builds, 'Rafter').findings[0]).toMatchObject({ status: 'resolved', id: 'motor-overvoltage' });
    expect(await change.fails('error')).toBe(false);
  });
});

describe('files that come, go and move', () => {
  it('a moved part file changes nothing; a figure changed on the way is reported alone', async () => {
    const change = new Change(CRAFT);
    change.move('parts/motors.fettle', 'parts/drawer/motors.fettle');
    const uses = 'use "../parts"\nuse "../parts/drawer"';
    change
      .edit('builds/rafter.fettle', 'use "../parts"', uses)
      .edit('builds/quiet.fettle', 'use "../parts"', uses)
      .edit('builds/eave.fettle', 'use "../parts"', uses);
    expect((await change.json()).builds).toEqual([]);
    change.edit('parts/drawer/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    const { builds } = await change.json();
    const rafter = named(builds, 'Rafter');
    expect(rafter.changes).toMatchObject([{ what: 'mass', file: 'parts/drawer/motors.fettle' }]);
    const { results } = named(rafter.options, 'Slim900');
    const { before, difference } = results.all_up_weight;
    expect(difference.plusMinus).toBeLessThan(before.plusMinus / 5);
  });

  it('a part file that goes leaves builds that name nothing', async () => {
    const change = new Change(CRAFT);
    change.delete('parts/motors.fettle');
    const { verdict, builds, text } = await change.json();
    expect(verdict.worry).toBe('error');
    expect(text).toContainEqual(
      expect.objectContaining({ status: 'new', id: 'unknown-name', severity: 'error', file: 'builds/rafter.fettle' }),
    );
    const { results } = named(named(builds, 'Rafter').options, 'Slim900');
    expect(results.hover_time).toMatchObject({ beyond: true, before: { value: expect.any(Number) } });
    expect(results.hover_time.after).toBeUndefined();
  });

  it('a build that moves keeps its past; one that is new or gone is reported as such', async () => {
    const change = new Change(CRAFT);
    change.move('builds/rafter.fettle', 'builds/indoor.fettle').delete('builds/eave.fettle');
    const gable = `${CRAFT['builds/eave.fettle']}`.replaceAll('Eave', 'Gable').replace('x Old', 'x M1506');
    change.write({ 'builds/gable.fettle': gable.replace('pack: Slim700', 'pack: Slim900') });
    change.edit('builds/indoor.fettle', 'duty 58 %', 'duty 64 %');
    const { builds } = await change.json();
    expect(named(builds, 'Rafter')).toMatchObject({
      status: 'changed',
      file: 'builds/indoor.fettle',
      movedFrom: 'builds/rafter.fettle',
    });
    expect(named(builds, 'Gable').status).toBe('added');
    expect(named(builds, 'Eave').status).toBe('removed');
  });

  it('a build that goes by another name is one build, wherever its file is now, also with a line changed on the way', async () => {
    const change = new Change(CRAFT);
    change
      .edit('builds/rafter.fettle', 'build Rafter "Rafter', 'build Loft "Loft')
      .edit('builds/quiet.fettle', 'like Rafter', 'like Loft')
      .move('builds/rafter.fettle', 'builds/loft.fettle');
    const { verdict, builds } = await change.json();
    expect(verdict).toEqual({
      worry: 'none',
      sentence: 'Nothing to worry about: no difference that the ± cannot explain, 1 build renamed',
    });
    expect(named(builds, 'Loft')).toMatchObject({ status: 'changed', renamedFrom: 'Rafter', changes: [] });
    expect(named(builds, 'Quiet').status).toBe('changed');
    expect(builds).toHaveLength(2);
    change.edit('builds/loft.fettle', 'duty 58 %', 'duty 60 %');
    const out = await change.text();
    expect(out).toMatch(/^No new error or warning; 1 build differs by more than the ± can explain, 1 build renamed\n/);
    expect(out).toMatch(/^Rafter, now Loft .* builds\/loft\.fettle, moved from builds\/rafter\.fettle\n.*Slim700\n/m);
    expect(out).toMatch(/effective kV +2262 → 2340 rpm\/V/);
  });

  it('of two builds that were alike neither is taken for the one that came', async () => {
    const twin = `${CRAFT['builds/eave.fettle']}`.replaceAll('Eave', 'Twin').replace(/^motor Old .*\n/m, '');
    const change = new Change({ ...CRAFT, 'builds/twin.fettle': twin });
    change.edit('builds/eave.fettle', 'build Eave', 'build Gable').delete('builds/twin.fettle');
    const { builds } = await change.json();
    const reported = builds.map(({ name, status }: Record<string, string>) => `${name} ${status}`);
    expect(reported.sort()).toEqual(['Eave removed', 'Gable added', 'Twin removed']);
  });

  it('a build that only comes or goes differs from nothing', async () => {
    const change = new Change(CRAFT);
    change.delete('builds/eave.fettle');
    const sentence = async () => (await change.json()).verdict.sentence;
    expect(await sentence()).toBe('No new error or warning; 1 build removed');
    change.write({ 'builds/gable.fettle': `${CRAFT['builds/rafter.fettle']}`.replaceAll('Rafter', 'Gable') });
    expect(await sentence()).toBe('No new error or warning; 1 build added, 1 build removed');
    change.edit('builds/rafter.fettle', 'duty 58 %', 'duty 60 %');
    expect(await sentence()).toBe(
      'No new error or warning; 1 build differs by more than the ± can explain, 1 build added, 1 build removed',
    );
  });

  it('a file that lost a brace is reported once, as one that no longer parses, and its builds are counted once', async () => {
    const change = new Change(CRAFT);
    change.edit('builds/eave.fettle', 'mass: 11 g }', 'mass: 11 g');
    const torn = await change.json();
    expect(torn.verdict).toEqual({
      worry: 'error',
      sentence: 'Stop and check: 1 new error, builds/eave.fettle no longer parses',
    });
    expect(torn.text).toMatchObject([{ status: 'new', id: 'syntax', file: 'builds/eave.fettle' }]);
    expect(torn).toMatchObject({ builds: [], buildsInAll: 3 });
    const mended = await change.turn().json();
    expect(mended).toMatchObject({ verdict: { worry: 'none' }, builds: [], buildsInAll: 3 });
  });

  it('a file that can be read on one side only: before it was, then it is not, and back', async () => {
    const change = new Change(CRAFT);
    change.edit('parts/motors.fettle', 'kv: 3900 rpm/V +- 3 % claimed', 'kv 3900 rpm/V');
    const torn = await change.json();
    expect(torn.verdict.worry).toBe('error');
    expect(torn.text.map(({ file, status }: Record<string, string>) => [file, status])).toContainEqual([
      'parts/motors.fettle',
      'new',
    ]);
    const mended = await change.turn().json();
    expect(mended.verdict.worry).toBe('differences');
    expect(mended.text).toContainEqual(expect.objectContaining({ file: 'parts/motors.fettle', status: 'resolved' }));
  });
});

describe('a name that two folders of parts have', () => {
  it('reaches only those who see the one that was changed', async () => {
    const motors = `${CRAFT['parts/motors.fettle']}`;
    const change = new Change({ ...CRAFT, 'shed/parts/motors.fettle': motors });
    change.edit('shed/parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    expect((await change.json()).work).toMatchObject({ changedFiles: 1, buildsCompared: 0, filesRead: 2 });
  });
});

describe('an error in a part that a build rests on', () => {
  it('is reported though only the folder of the builds is reviewed; one in a part that none of them rests on is not', async () => {
    const spare = 'fettle 1\n\nitem Spare { mass: 3 g }\n';
    const change = new Change({ ...CRAFT, 'drawer/spare.fettle': spare }, ['builds']);
    change.edit('drawer/spare.fettle', 'mass: 3 g', 'mass: 3 gg');
    expect(await change.json()).toMatchObject({ verdict: { worry: 'none' }, text: [] });
    expect(await change.fails('error')).toBe(false);
    change.edit('parts/others.fettle', '78.1 g', '78.1 gg');
    const out = await change.text();
    expect(out).toMatch(/^Stop and check: 1 new error\n/);
    expect(out).toMatch(/^new error {2}unknown-unit {2}parts\/others\.fettle:\d+$/m);
    expect(await change.fails('error')).toBe(true);
  });
});

describe('a build that cannot be judged any more', () => {
  it('has nothing resolved', async () => {
    const heavy = `${CRAFT['rules/house.fettle']}`.replace('<= 270 g', '<= 150 g');
    const change = new Change({ ...CRAFT, 'rules/house.fettle': heavy });
    change.edit('builds/rafter.fettle', 'airframe: Open152', 'airframe: Duct9');
    const { builds, verdict } = await change.json();
    const statuses = builds.flatMap(({ findings }: { findings: { status: string }[] }) =>
      findings.map(({ status }) => status),
    );
    expect(statuses).not.toContain('resolved');
    expect(verdict.worry).toBe('error');
  });
});
