import { describe, expect, it } from 'vitest';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { Workspace } from './workspace.ts';

const PARTS = `motor M1 { }
propeller P1 { }
pack Slim900_3S { }
pack Slim900_5S { }
esc Board32 { rail video { output: 10 V }
 rail logic { from: video } }
esc Plain { }
regulator Step5 { }
load Cam { }
load Lamp { }`;

async function reportedOf(text: string, more: Record<string, string> = {}): Promise<string[]> {
  const workspace = await Workspace.of({ 'parts/p.fettle': PARTS, 'b/a.fettle': text, ...more });
  return workspace.reported('b/a.fettle');
}

/** Lines of a build that opens the parts. */
const buildWith = (lines: string) =>
  reportedOf(`use "../parts"\nbuild A { esc: Board32\n pack: Slim900_3S\n ${lines} }`);

describe('a name that refers to nothing', () => {
  it('offers what is in scope and of the right kind', async () => {
    const text = 'use "../parts"\nbuild A { pack: Slim900_3s }';
    const workspace = await Workspace.of({ 'parts/p.fettle': `${PARTS}\nmotor Slim900_3s1 { }`, 'b/a.fettle': text });
    const [problem] = workspace.problems('b/a.fettle');
    expect(workspace.reported('b/a.fettle')).toEqual([
      'Slim900_3s | unknown-name: no such pack: Slim900_3s; did you mean Slim900_3S or Slim900_5S?',
    ]);
    expect(workspace.fixed('b/a.fettle', problem?.fixes?.[0])).toBe('use "../parts"\nbuild A { pack: Slim900_3S }');
  });

  it('offers nothing that is far from it', async () => {
    expect(await buildWith('load: Zeppelin')).toEqual(['Zeppelin | unknown-name: no such load: Zeppelin']);
  });

  it('reports what a name of the wrong kind is, and where', async () => {
    const workspace = await Workspace.of({
      'parts/p.fettle': PARTS,
      'b/a.fettle': 'use "../parts"\nbuild A { pack: M1 }',
    });
    expect(workspace.reported('b/a.fettle')).toEqual(['M1 | wrong-kind: M1 is a motor, expected a pack']);
    expect(workspace.problems('b/a.fettle')[0]?.related?.[0]?.place.uri).toContain('parts/p.fettle');
    expect(await reportedOf('use "../parts"\nmotor N like Cam { }')).toEqual([
      'Cam | wrong-kind: Cam is a load, expected a motor',
    ]);
    expect(await reportedOf('use "../parts" as club\nbuild A { esc: club.Cam }')).toEqual([
      'Cam | wrong-kind: Cam is a load, expected an esc',
    ]);
  });

  it('adds the `use` for a part in a folder that is not opened', async () => {
    const workspace = await Workspace.of({
      'parts/p.fettle': PARTS,
      'b/first.fettle': 'build A { pack: Slim900_3S }',
      'b/second.fettle': 'fettle 1 // version\nbuild B { pack: Slim900_3S }',
      'b/third.fettle': 'use "../other" // others\r\nbuild C { pack: Slim900_3S\r\n load: X }',
      'other/o.fettle': 'load X { }',
    });
    const fixed = (path: string) => workspace.fixed(path, workspace.problems(path)[0]?.fixes?.[0]);
    expect(workspace.reported('b/first.fettle')).toEqual([
      'Slim900_3S | unknown-name: no such pack here: Slim900_3S is in ../parts/p.fettle, which this file does not open',
    ]);
    expect(fixed('b/first.fettle')).toBe('use "../parts"\n\nbuild A { pack: Slim900_3S }');
    expect(fixed('b/second.fettle')).toBe('fettle 1 // version\nuse "../parts"\nbuild B { pack: Slim900_3S }');
    expect(fixed('b/third.fettle')).toBe(
      'use "../other" // others\r\nuse "../parts"\r\nbuild C { pack: Slim900_3S\r\n load: X }',
    );
  });

  it('names rails of the board that is meant', async () => {
    expect(await buildWith('load: Cam from Board32.vidoe')).toEqual([
      'vidoe | unknown-name: Board32 has no rail vidoe; did you mean video?',
    ]);
    expect(await buildWith('load: Cam from Board32.x')).toEqual([
      'x | unknown-name: Board32 has no rail x; known here: video, logic',
    ]);
    expect(await buildWith('esc: Plain as Second\n load: Cam from Second.video')).toEqual([
      'video | unknown-name: Second has no rail video',
    ]);
    expect(await buildWith('regulator: Step5\n load: Cam from Step5.video')).toEqual([
      'video | unknown-name: Step5 is a regulator: it has one output and no rails',
    ]);
    const workspace = await Workspace.of({
      'parts/p.fettle': PARTS,
      'b/a.fettle': 'use "../parts"\nbuild A { esc: Board32\n load: Cam from video }',
    });
    expect(workspace.reported('b/a.fettle')).toEqual([
      'video | unknown-name: no board or regulator called video in this build; did you mean Board32.video?',
    ]);
    expect(workspace.fixed('b/a.fettle', workspace.problems('b/a.fettle')[0]?.fixes?.[0])).toContain(
      'from Board32.video }',
    );
    expect(await buildWith('load: Cam from pack.video')).toEqual(['video | unknown-name: nothing comes after pack']);
    expect(await reportedOf('esc B { rail video { } rail logic { from: vidoe } }')).toEqual([
      'vidoe | unknown-name: no rail called vidoe in this esc; did you mean video?',
    ]);
  });

  it('names boards, packs and functions of the build', async () => {
    expect(await buildWith('load: Cam from Bord32.video')).toEqual([
      'Bord32 | unknown-name: no board or regulator called Bord32 in this build; did you mean Board32?',
    ]);
    expect(await buildWith('pack: Slim900_5S as Gentle\n require hover_time > 1 min with Gentel')).toEqual([
      'Gentel | unknown-name: no pack called Gentel in this build; did you mean Gentle?',
    ]);
    expect(await buildWith('require hover_time > 1 min with Slim900_5S')).toEqual([
      'Slim900_5S | unknown-name: no pack called Slim900_5S in this build; did you mean Slim900_3S?',
    ]);
    expect(await buildWith('require hover_tme > 1 min')).toEqual([
      'hover_tme | unknown-name: no such result: hover_tme; did you mean hover_time?',
    ]);
    expect(await buildWith('require mix(hover_time, flight_time) > 1 min')).toEqual([
      'mix | unknown-name: no such function: mix; did you mean max or min?',
    ]);
    expect(await buildWith('require hover_time.x > 1 min')).toEqual([
      'x | unknown-name: nothing comes after hover_time',
    ]);
    expect(await buildWith('require rail.vidoe.voltage > 1 V and rail.video.volts > 1 V')).toEqual([
      'vidoe | unknown-name: no rail called vidoe in this build; did you mean video?',
      'volts | unknown-name: no such result of a rail: volts; did you mean voltage?',
    ]);
  });

  it('names what can be taken away', async () => {
    expect(await buildWith('without: Lamp')).toEqual([
      'Lamp | unknown-name: this build is like no other, so there is nothing to take away',
    ]);
    const base = { 'b/base.fettle': 'use "../parts"\nbuild Base { load: Lamp\n load: Cam }' };
    expect(await reportedOf('build A like Base { without: Lmap }', base)).toEqual([
      'Lmap | unknown-name: nothing called Lmap comes from Base; did you mean Lamp?',
    ]);
  });

  it('names the choices of a word', async () => {
    expect(await reportedOf('regulator R { type: bukc }')).toEqual([
      'bukc | unknown-name: no such type: bukc; did you mean buck?',
    ]);
    expect(await reportedOf('pack P { chemistry: wood }')).toEqual([
      'wood | unknown-name: no such chemistry: wood; known here: lipo, lihv, liion',
    ]);
  });

  it('reports that the rail of a board is ambiguous', async () => {
    const read = async (from: string) => {
      const workspace = await Workspace.of({
        'parts/p.fettle': PARTS,
        'b/a.fettle': `use "../parts"\nbuild A { esc: Board32\n esc: Plain as Second\n load: Cam from ${from} }`,
      });
      const { problems } = readDocument(workspace.document('b/a.fettle'));
      return problems.map(({ message }) => message).filter((message) => message.includes('rail'));
    };
    expect(await read('Board32')).toEqual(['which rail of Board32? Board32.video or Board32.logic']);
    expect(await read('Second')).toEqual(['Second has no rails to feed from']);
    expect(await read('Board32.video')).toEqual([]);
  });

  it('is silent where a build is like one that is not known', async () => {
    expect(
      await reportedOf(
        'use "../parts"\nbuild A like Nobody { load: Cam from Top.video\n without: Lamp\n require hover_time > 1 min with S9 }',
      ),
    ).toEqual(['Nobody | unknown-name: no such build: Nobody']);
  });

  it('complains once about a pack that is unknown and named again', async () => {
    expect(
      await reportedOf('use "../parts"\nbuild A { pack: Brick as B\n require hover_time > 1 min with B }'),
    ).toEqual(['Brick | unknown-name: no such pack: Brick']);
  });

  it('reports no names that are not typed to the end', async () => {
    expect(await buildWith('load: Cam from Board32.')).toEqual([]);
    expect(await buildWith('load: ')).toEqual([]);
    expect(
      await reportedOf('use\nuse "../parts" as\nmotor like { }\nbuild A { motors: 4 x \n esc: \n load: from }'),
    ).toEqual([]);
  });
});

describe('a `use` that opens nothing', () => {
  it('offers the nearest folder, and names that depend on it stay silent', async () => {
    const workspace = await Workspace.of({
      'parts/p.fettle': PARTS,
      'b/a.fettle':
        'use "../prats"\nbuild A { motors: 4 x M1 with P1\n esc: Board32 as Top\n load: Cam from Top.video }',
    });
    expect(workspace.reported('b/a.fettle')).toEqual([
      '"../prats" | use-missing: there is no folder or file ../prats; did you mean ../parts?',
    ]);
    const [problem] = workspace.problems('b/a.fettle');
    expect(workspace.fixed('b/a.fettle', problem?.fixes?.[0])).toContain('use "../parts"\n');
  });

  it('keeps names under its second name silent, and only those', async () => {
    expect(await reportedOf('use "../nowhere" as club\nbuild A { load: club.Cam\n load: Cax }')).toEqual([
      '"../nowhere" | use-missing: there is no folder or file ../nowhere',
      'Cax | unknown-name: no such load: Cax',
    ]);
  });

  it('distinguishes an empty folder and another kind of file from a missing one', async () => {
    const more = { 'notes/readme.txt': 'hello', 'docs/deep/p.fettle': 'load Deep { }' };
    expect(await reportedOf('use "../notes"\nuse "../notes/readme.txt"\nuse "../docs"', more)).toEqual([
      '"../notes" | use-missing: there is no .fettle file in ../notes',
      '"../notes/readme.txt" | use-missing: ../notes/readme.txt opens nothing: it is not a .fettle file',
      '"../docs" | use-missing: there is no .fettle file in ../docs',
    ]);
  });

  it('offers the ending of a file', async () => {
    expect(await reportedOf('use "../parts/p"')).toEqual([
      '"../parts/p" | use-missing: there is no folder or file ../parts/p; did you mean ../parts/p.fettle?',
    ]);
  });

  it('finds its folder when that comes, and misses it when it goes', async () => {
    const workspace = await Workspace.of({ 'b/a.fettle': 'use "../parts"\nbuild A { load: Cam }' });
    expect(workspace.reported('b/a.fettle')).toHaveLength(1);
    await workspace.edit('parts/p.fettle', PARTS);
    expect(workspace.reported('b/a.fettle')).toEqual([]);
    await workspace.remove('parts');
    expect(workspace.reported('b/a.fettle')).toHaveLength(1);
  });
});

describe('a `use` that nothing needs', () => {
  it('is reported, with a fix that takes the line out', async () => {
    const workspace = await Workspace.of({
      'parts/p.fettle': PARTS,
      'more/m.fettle': 'load Other { }',
      'b/a.fettle': 'use "../more"\r\nuse "../parts"\r\nuse "../more" as more\r\nuse "."\r\nbuild A { load: Cam }',
    });
    expect(workspace.reported('b/a.fettle')).toEqual([
      'use "../more" | unused-use: nothing here needs ../more',
      'use "../more" as more | unused-use: nothing here needs more',
      'use "." | unused-use: files of one folder see each other without `use`',
    ]);
    const [problem] = workspace.problems('b/a.fettle');
    expect(workspace.fixed('b/a.fettle', problem?.fixes?.[0])).toMatch(/^use "..\/parts"\r\n/);
  });

  it('is not reported while something is unknown or half typed', async () => {
    expect(await reportedOf('use "../parts"\nbuild A { load: }')).toEqual([]);
    expect(await reportedOf('use "../parts"\nbuild A { load: Cax }')).toEqual([
      'Cax | unknown-name: no such load: Cax; did you mean Cam?',
    ]);
  });
});

describe('names given twice', () => {
  it('is one error, at the second, with the first as related place', async () => {
    const workspace = await Workspace.of({
      'p/a.fettle': 'motor M { }\nmotor M { }',
      'p/b.fettle': 'motor M { }\nload M { }',
      'q/c.fettle': 'motor M { }',
    });
    expect(workspace.reported('p/a.fettle')).toEqual(['M | duplicate: there is a motor M in this file already']);
    expect(workspace.problems('p/a.fettle')[0]?.related?.[0]?.place).toMatchObject({ start: 6, end: 7 });
    expect(workspace.reported('p/b.fettle')).toEqual(['M | duplicate: there is a motor M in this folder already']);
    expect(workspace.reported('q/c.fettle')).toEqual([]);
    await workspace.edit('p/a.fettle', 'motor M1 { }');
    expect(workspace.reported('p/b.fettle')).toEqual([]);
  });

  it('leaves each file its own: nothing else goes wrong by it', async () => {
    const workspace = await Workspace.of({
      'p/a.fettle': 'load Cam { draw: 12 W }',
      'p/b.fettle': 'load Cam { draw: 2 W }\nbuild B { load: Cam }',
      'p/c.fettle': 'build C { load: Cam }',
    });
    expect(workspace.reported('p/b.fettle')).toEqual(['Cam | duplicate: there is a load Cam in this folder already']);
    expect(workspace.meanings('p/b.fettle')).toContain('Cam -> part Cam in p/b.fettle');
    expect(workspace.meanings('p/c.fettle')).toContain('Cam -> part Cam in p/a.fettle');
    await workspace.edit('p/b.fettle', 'build B { load: Cam }');
    expect(workspace.meanings('p/b.fettle')).toContain('Cam -> part Cam in p/a.fettle');
    expect(workspace.reported('p/b.fettle')).toEqual([]);
  });

  it('applies to rails, second names, packs and opened folders', async () => {
    expect(await reportedOf('esc B { rail video { } rail video { } }')).toEqual([
      'video | duplicate: there is a rail video here already',
    ]);
    expect(await buildWith('pack: Slim900_3S duty 50 %')).toEqual([
      'Slim900_3S | duplicate: Slim900_3S is the name of another line already: give this one a name of its own with `as`',
    ]);
    expect(await buildWith('pack: Slim900_3S as Gentle duty 50 %')).toEqual([]);
    expect(await buildWith('esc: Plain as Top\n regulator: Step5 as Top')).toEqual([
      'Top | duplicate: Top is the name of another line already: give this one a name of its own with `as`',
    ]);
    expect(await reportedOf('use "../parts" as p\nuse "../parts" as p\nbuild A { load: p.Cam }')).toContainEqual(
      'p | duplicate: something else is opened as p already',
    );
  });
});

describe('like in a circle', () => {
  it('is reported once, wherever it is met', async () => {
    const workspace = await Workspace.of({
      'p/a.fettle': 'motor A like B { }\nmotor X like A { }',
      'p/b.fettle': 'motor B like C { }\nmotor C like A { }',
      'p/c.fettle': 'item Self like Self { }',
    });
    expect(workspace.reported('p/a.fettle')).toEqual([
      'B | like-cycle: A is like B, which is like C, which is like A: none of them declares its own figures',
    ]);
    expect(workspace.reported('p/b.fettle')).toEqual([]);
    expect(workspace.reported('p/c.fettle')).toEqual([
      'Self | like-cycle: Self is like Self: none of them declares its own figures',
    ]);
    await workspace.edit('p/b.fettle', 'motor B { }');
    expect(workspace.reported('p/a.fettle')).toEqual([]);
  });

  it('does not keep names of builds in a circle from being looked up', async () => {
    const reported = await reportedOf(
      'build A like B { esc: Board32  load: Cam from Board32.video }\nbuild B like A { }\nuse "../parts"',
    );
    expect(reported).toHaveLength(1);
  });
});
