import { describe, expect, it } from 'vitest';
import { Workspace } from './memory-workspace.ts';

const PARTS = {
  'parts/motors.fettle': 'motor M1 { kv: 5000 rpm/V }\nmotor M2 like M1 { kv: 4000 rpm/V }',
  'parts/boards.fettle': `esc Board32 {
  rail video { from: pack  type: buck  output: 10 V }
  rail logic { from: video  output: 5 V }
}
esc Board50 like Board32 { rail video { output: 9 V } }
regulator Step5 { type: buck  output: 5 V }`,
  'parts/rest.fettle': `propeller P1 { blades: 3 }
pack S2 { cells: 2S }
pack S3 { cells: 3S }
load Cam { draw: 2 W }
load Lamp { draw: 6 W }
mount Gel { mass: 1 g }
airframe Frame { rotors: 4 }`,
};

describe('parts in scope', () => {
  it('sees files of its own folder without a word', async () => {
    const workspace = await Workspace.of({ 'a/one.fettle': 'motor M like N { }', 'a/two.fettle': 'motor N { }' });
    expect(workspace.meanings('a/one.fettle')).toEqual(['N -> part N in a/two.fettle']);
    expect(workspace.reported('a/one.fettle')).toEqual([]);
  });

  it('sees an opened folder, and an opened file but not its neighbours', async () => {
    const workspace = await Workspace.of({
      ...PARTS,
      'builds/a.fettle': 'use "../parts"\nbuild A { motors: 4 x M2 with P1 }',
      'builds/b.fettle': 'use "../parts/motors.fettle"\nbuild B { motors: 4 x M2 with P1 }',
    });
    expect(workspace.meanings('builds/a.fettle')).toEqual([
      'M2 -> part M2 in parts/motors.fettle',
      'P1 -> part P1 in parts/rest.fettle',
    ]);
    expect(workspace.reported('builds/b.fettle')).toEqual([
      'P1 | unknown-name: no such propeller here: P1 is in ../parts/rest.fettle, which this file does not open',
    ]);
  });

  it('does not see what an opened folder opens', async () => {
    const workspace = await Workspace.of({
      ...PARTS,
      'more/m.fettle': 'use "../parts"\nmotor M9 like M1 { }',
      'builds/a.fettle': 'use "../more"\nbuild A { motors: 4 x M9\n motors: 2 x M1 }',
    });
    expect(workspace.reported('more/m.fettle')).toEqual([]);
    expect(workspace.reported('builds/a.fettle')).toEqual([
      'M1 | unknown-name: no such motor here: M1 is in ../parts/motors.fettle, which this file does not open',
    ]);
  });

  it('reaches a folder under a second name only by that name', async () => {
    const workspace = await Workspace.of({
      ...PARTS,
      'club/c.fettle': 'load Beacon { draw: 1 W }\nesc Board32 { rail video { output: 12 V } }',
      'builds/a.fettle': `use "../parts"
use "../club" as club
build A { esc: Board32  esc: club.Board32 as Other  load: club.Beacon from Board32.video  load: Cam from Other.video }`,
    });
    expect(workspace.reported('builds/a.fettle')).toEqual([]);
    expect(workspace.meanings('builds/a.fettle')).toEqual([
      'Board32 -> part Board32 in parts/boards.fettle',
      'club.Board32 -> use club in builds/a.fettle.part Board32 in club/c.fettle',
      'club.Beacon -> use club in builds/a.fettle.part Beacon in club/c.fettle',
      'Board32.video -> part Board32 in parts/boards.fettle.rail video in parts/boards.fettle',
      'Cam -> part Cam in parts/rest.fettle',
      'Other.video -> alias Other in builds/a.fettle.rail video in club/c.fettle',
    ]);
    await workspace.edit('builds/a.fettle', 'use "../club" as club\nbuild A { load: Beacon }');
    expect(workspace.problems('builds/a.fettle').map(({ id }) => id)).toContain('unknown-name');
  });

  it('prefers the own folder to an opened one, and that to nothing else of the name', async () => {
    const workspace = await Workspace.of({
      ...PARTS,
      'builds/own.fettle': 'motor M1 { }',
      'builds/a.fettle': 'use "../parts"\nbuild A { motors: 4 x M1 with P1 }',
    });
    expect(workspace.meanings('builds/a.fettle')[0]).toBe('M1 -> part M1 in builds/own.fettle');
  });

  it('takes a name of another kind for another name', async () => {
    const workspace = await Workspace.of({
      ...PARTS,
      'builds/a.fettle': 'use "../parts"\nbuild Frame { airframe: Frame }',
    });
    expect(workspace.meanings('builds/a.fettle')).toEqual(['Frame -> part Frame in parts/rest.fettle']);
    expect(workspace.reported('builds/a.fettle')).toEqual([]);
  });

  it('reports when two opened folders have the name, and lists both', async () => {
    const workspace = await Workspace.of({
      ...PARTS,
      'more/m.fettle': 'motor M1 { }',
      'builds/a.fettle': 'use "../parts"\nuse "../more"\nbuild A { motors: 4 x M1 with P1 }',
    });
    expect(workspace.reported('builds/a.fettle')).toEqual([
      'M1 | duplicate: M1 is in ../parts and ../more: open one of them with `as` and write its name before M1',
    ]);
    expect(workspace.problems('builds/a.fettle')[0]?.related).toHaveLength(2);
  });

  it('is not confused by a folder that is opened twice', async () => {
    const workspace = await Workspace.of({
      ...PARTS,
      'builds/a.fettle': 'use "../parts/motors.fettle"\nuse "../parts"\nbuild A { motors: 4 x M1 with P1 }',
    });
    expect(workspace.reported('builds/a.fettle')).toEqual([]);
  });

  it('finds a package of parts in node_modules above', async () => {
    const workspace = await Workspace.of({
      'node_modules/@barn/parts/m.fettle': 'motor M1 { }',
      'builds/a.fettle': 'use "@barn/parts"\nbuild A { motors: 4 x M1 }',
    });
    expect(workspace.meanings('builds/a.fettle')).toEqual(['M1 -> part M1 in node_modules/@barn/parts/m.fettle']);
    expect(workspace.reported('builds/a.fettle')).toEqual([]);
  });
});

describe('names a build has given', () => {
  const build = async (lines: string, before = '', like = '') => {
    const workspace = await Workspace.of({
      ...PARTS,
      'b/a.fettle': `use "../parts"\n${before}\nbuild A ${like} {\n${lines}\n}`,
    });
    return { reported: workspace.reported('b/a.fettle'), meanings: workspace.meanings('b/a.fettle') };
  };

  it('finds boards by their second name and rails inherited through like', async () => {
    const { reported, meanings } = await build(`esc: Board50 as Top
      load: Cam from Top.video on Gel
      load: Lamp from Top.logic
      require rail.Top.video.voltage >= 9 V and rail.video.burst_voltage > 1 V`);
    expect(reported).toEqual([]);
    expect(meanings.filter((meaning) => meaning.includes('Top.'))).toEqual([
      'Top.video -> alias Top in b/a.fettle.rail video in parts/boards.fettle',
      'Top.logic -> alias Top in b/a.fettle.rail logic in parts/boards.fettle',
      'rail.Top.video.voltage -> "rail".alias Top in b/a.fettle.rail video in parts/boards.fettle."voltage"',
    ]);
  });

  it('feeds from the pack, a regulator or its second name', async () => {
    const { reported, meanings } = await build(`regulator: Step5 as CamPower from pack
      regulator: Step5 from CamPower
      load: Cam from Step5
      require rail.CamPower.voltage > 3 V`);
    expect(reported).toEqual([]);
    expect(meanings).toContain('pack -> "pack"');
    expect(meanings).toContain('CamPower -> alias CamPower in b/a.fettle');
    expect(meanings).toContain('Step5 -> part Step5 in parts/boards.fettle');
  });

  it('finds packs by name and second name wherever they are named', async () => {
    const { reported, meanings } = await build(`pack: S2
      pack: S3 as Gentle duty 58 %
      require hover_time > 3 min with Gentle
      accept overweight with S2 because "x"
      observed "barn" with Gentle { scale: 99 g }`);
    expect(reported).toEqual([]);
    expect(meanings.filter((meaning) => meaning.startsWith('Gentle'))).toEqual([
      'Gentle -> alias Gentle in b/a.fettle',
      'Gentle -> alias Gentle in b/a.fettle',
    ]);
  });

  it('finds what the build it is like has named, and what it may take away', async () => {
    const { reported } = await build(
      `without: Lamp
       without: Gentle
       load: Cam as Second from Top.video
       require hover_time > 1 min with S2`,
      `build Base { esc: Board50 as Top  load: Lamp from Top.video  pack: S2  pack: S3 as Gentle }`,
      'like Base',
    );
    expect(reported).toEqual([]);
    const inherited = await Workspace.of({
      ...PARTS,
      'b/base.fettle': 'use "../parts"\nbuild Base { esc: Board50 as Top  load: Lamp from Top.video  pack: S2 }',
      'b/a.fettle':
        'use "../parts"\nbuild A like Base { without: Lamp  load: Cam from Top.logic  require hover_time > 1 min with S2 }',
    });
    expect(inherited.reported('b/a.fettle')).toEqual([]);
    expect(inherited.meanings('b/a.fettle')).toEqual([
      'Base -> part Base in b/base.fettle',
      'Lamp -> part Lamp in parts/rest.fettle',
      'Cam -> part Cam in parts/rest.fettle',
      'Top.logic -> alias Top in b/base.fettle.rail logic in parts/boards.fettle',
      'hover_time -> "hover_time"',
      'S2 -> part S2 in parts/rest.fettle',
    ]);
  });

  it('never depends on the order of lines, parts or files', async () => {
    const lines = [
      'esc: Board50 as Top',
      'load: Cam from Top.video',
      'pack: S3 as Gentle',
      'require hover_time > 1 min with Gentle',
    ];
    const forwards = await build(lines.join('\n'));
    const backwards = await build(lines.toReversed().join('\n'));
    expect(forwards.reported).toEqual([]);
    expect(backwards.reported).toEqual([]);
    expect(backwards.meanings.toSorted()).toEqual(forwards.meanings.toSorted());
  });

  it('reads CRLF files the same', async () => {
    const text = 'use "../parts"\nbuild A {\n  esc: Board50 as Top\n  load: Cam from Top.vidoe\n}\n';
    const workspace = await Workspace.of({ ...PARTS, 'b/a.fettle': text, 'c/a.fettle': text.replaceAll('\n', '\r\n') });
    expect(workspace.reported('c/a.fettle')).toEqual(workspace.reported('b/a.fettle'));
    expect(workspace.reported('c/a.fettle')).toHaveLength(1);
  });
});

describe('built-in words', () => {
  it('leaves nothing unresolved in files without mistakes', async () => {
    const workspace = await Workspace.of({
      ...PARTS,
      'r/rules.fettle': `rules Home {
  reserve: 20 % of capacity
  flown: 75 % at hover
  flown: 25 % at 1.4 x hover
  burst: 2.5 x hover for 1 s
  keep 20 % in reserve on esc.continuous
  raise pack-oversag to error
  require max(tip_speed, 2 * tip_speed) <= 240 m/s and rail.video.voltage > 3 V
}`,
      'p/more.fettle': `pack S { chemistry: lipo  plug: Bullet2  lead: 60 mm of 20 AWG }
airframe F { bolts: 4 x M2 on 25.5 x 25.5 mm }
motor M { note "check" for assembly }`,
    });
    for (const path of ['r/rules.fettle', 'p/more.fettle', 'parts/boards.fettle', 'parts/rest.fettle']) {
      expect(
        workspace.meanings(path).filter((meaning) => meaning.includes('?')),
        path,
      ).toEqual([]);
      expect(workspace.reported(path), path).toEqual([]);
    }
  });

  it('reports no names on lines that are wrong for another reason', async () => {
    const workspace = await Workspace.of({ 'a.fettle': 'motor M { kvv: Nothing\n bolts: }\nmoter X { esc: Nobody }' });
    expect(workspace.reported('a.fettle')).toEqual([]);
  });
});
