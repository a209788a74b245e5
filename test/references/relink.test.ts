import { DocumentState } from 'langium';
import { describe, expect, it } from 'vitest';
import { uriOf, Workspace } from './memory-workspace.ts';

const CHAIN = {
  'c/c.fettle': 'esc C { rail video { output: 10 V } }',
  'b/b.fettle': 'use "../c"\nesc B like C { mass: 3 g }',
  'a/a.fettle': 'use "../b"\nload Cam { }\nbuild A { esc: B\n load: Cam from B.video }',
  'other/other.fettle': 'load Lamp { }\nbuild O { load: Lamp }',
};

/** Documents that reached the last step of a build during `action`. */
async function validatedDuring(workspace: Workspace, action: () => Promise<void>): Promise<string[]> {
  const validated: string[] = [];
  const builder = workspace.services.shared.workspace.DocumentBuilder;
  const listener = builder.onDocumentPhase(DocumentState.Validated, (document) => {
    validated.push(document.uri.path.replace('/home/', ''));
  });
  await action();
  listener.dispose();
  return validated.sort();
}

describe('what an edit reaches', () => {
  it('follows references through other documents, and nothing else', async () => {
    const workspace = await Workspace.of(CHAIN);
    expect(workspace.reported('a/a.fettle')).toEqual([]);
    const validated = await validatedDuring(workspace, () =>
      workspace.edit('c/c.fettle', 'esc C { rail film { output: 10 V } }'),
    );
    expect(validated).toEqual(['a/a.fettle', 'b/b.fettle', 'c/c.fettle']);
    expect(workspace.reported('a/a.fettle')).toEqual(['video | unknown-name: B has no rail video; known here: film']);
  });

  it('leaves the parts alone when a build changes', async () => {
    const workspace = await Workspace.of(CHAIN);
    await workspace.edit('a/a.fettle', `${CHAIN['a/a.fettle']}\n`);
    expect(workspace.work).toEqual({ parsed: 1, linked: 1, validated: 1 });
  });

  it('does the work that an edit needs and no more', async () => {
    const builds = Object.fromEntries(
      Array.from({ length: 20 }, (_, number) => [`b/${number}.fettle`, `use "../p"\nbuild B${number} { load: Cam }`]),
    );
    const workspace = await Workspace.of({ ...builds, 'p/p.fettle': 'load Cam { }', 'p/q.fettle': 'load Lamp { }' });
    await workspace.edit('p/p.fettle', 'load Cam { draw: 2 W }');
    expect(workspace.work).toEqual({ parsed: 1, linked: 21, validated: 21 });
    await workspace.edit('p/q.fettle', 'load Lamp { draw: 2 W }');
    expect(workspace.work).toEqual({ parsed: 1, linked: 1, validated: 1 });
    await workspace.edit('p/q.fettle', 'load Lamp { draw: 2 W }');
    expect(workspace.work, 'a file saved as it is').toEqual({ parsed: 0, linked: 0, validated: 0 });
    await workspace.edit('p/q.fettle', 'load Cam { }');
    expect(workspace.work, 'a second part of a name that others mention').toEqual({
      parsed: 1,
      linked: 22,
      validated: 22,
    });
  });

  it('notices a name that comes, hides another one, or goes', async () => {
    const workspace = await Workspace.of({
      'p/p.fettle': 'load Cam { }',
      'q/q.fettle': 'load X { }',
      'b/b.fettle': 'use "../p"\nuse "../q"\nbuild B { load: Cam\n load: X }',
    });
    expect(workspace.meanings('b/b.fettle')[0]).toBe('Cam -> part Cam in p/p.fettle');
    await workspace.edit('b/own.fettle', 'load Cam { }');
    expect(workspace.meanings('b/b.fettle')[0]).toBe('Cam -> part Cam in b/own.fettle');
    await workspace.remove('b/own.fettle');
    expect(workspace.meanings('b/b.fettle')[0]).toBe('Cam -> part Cam in p/p.fettle');
    await workspace.edit('q/q.fettle', 'load X { }\nload Cam { }');
    expect(workspace.problems('b/b.fettle').map(({ id }) => id)).toEqual(['duplicate']);
    await workspace.edit('q/q.fettle', 'load X { }\nesc Cam { }');
    expect(workspace.reported('b/b.fettle')).toEqual([]);
    await workspace.remove('p');
    expect(workspace.problems('b/b.fettle').map(({ id }) => id)).toEqual(['use-missing']);
  });

  it('looks again at a build whose unknown name is declared anywhere', async () => {
    const workspace = await Workspace.of({ 'b/b.fettle': 'build B { load: Cam }', 'p/p.fettle': '' });
    expect(workspace.problems('b/b.fettle')[0]?.fixes).toBeUndefined();
    await workspace.edit('p/p.fettle', 'load Cam { }');
    expect(workspace.problems('b/b.fettle')[0]?.fixes).toHaveLength(1);
  });

  it('looks again at a bench whose table of rows changes', async () => {
    const workspace = await Workspace.of({
      'b/b.fettle': 'bench B { rows duty in % from "b.csv" }',
      'b/b.csv': 'duty\n1',
    });
    const validated = await validatedDuring(workspace, () => workspace.edit('b/b.csv', 'duty\n2'));
    expect(validated).toEqual(['b/b.fettle']);
  });

  it('survives a file that goes away before its change is read', async () => {
    const workspace = await Workspace.of(CHAIN);
    workspace.files.texts.delete(uriOf('c/c.fettle').path);
    await workspace.services.shared.workspace.DocumentBuilder.update(
      [uriOf('c/c.fettle'), uriOf('nowhere.fettle')],
      [],
    );
    expect(() => workspace.document('c/c.fettle')).toThrow();
    expect(workspace.problems('b/b.fettle').map(({ id }) => id)).toEqual(['use-missing']);
    await workspace.edit('c/c.fettle', CHAIN['c/c.fettle']);
    expect(workspace.reported('a/a.fettle')).toEqual([]);
  });

  it('finishes what a cancelled build left', async () => {
    const workspace = await Workspace.of(CHAIN);
    const { DocumentBuilder, WorkspaceLock } = workspace.services.shared.workspace;
    workspace.files.texts.set(uriOf('c/c.fettle').path, 'esc C { }');
    const first = WorkspaceLock.write((token) => DocumentBuilder.update([uriOf('c/c.fettle')], [], token));
    workspace.files.texts.set(uriOf('other/other.fettle').path, 'load Lamp { }');
    const second = WorkspaceLock.write((token) => DocumentBuilder.update([uriOf('other/other.fettle')], [], token));
    await Promise.all([first, second]);
    expect(workspace.reported('a/a.fettle')).toEqual(['video | unknown-name: B has no rail video']);
    for (const path of Object.keys(CHAIN)) expect(workspace.document(path).state, path).toBe(DocumentState.Validated);
  });
});

describe('what was observed', () => {
  const MOTOR = 'motor M { stator: 16 x 6 mm  kv: 3150 rpm/V }\npropeller P { diameter: 3 in  blades: 3 }';
  const craft = (name: string, more = '') => `use "../p"\nbuild ${name} { motors: 4 x M with P\n${more} }`;
  const flown = (scale: string) => `observed "barn" { scale: ${scale} }`;
  const FILES = {
    'p/p.fettle': MOTOR,
    'x/a.fettle': craft('A', flown('290 g')),
    'x/b.fettle': craft('B'),
    'y/c.fettle': craft('C'),
  };

  it('reaches the builds that see it, as it changes, comes and goes', async () => {
    const workspace = await Workspace.of(FILES);
    const edit = (text: string) => validatedDuring(workspace, () => workspace.edit('x/a.fettle', text));
    expect(await edit(craft('A', flown('291 g')))).toEqual(['x/a.fettle', 'x/b.fettle']);
    expect(await edit(craft('A'))).toEqual(['x/a.fettle', 'x/b.fettle']);
    expect(await edit(craft('A', flown('291 g')))).toEqual(['x/a.fettle', 'x/b.fettle']);
  });

  it('reaches nobody while something else is typed', async () => {
    const workspace = await Workspace.of(FILES);
    const beside = await validatedDuring(workspace, () =>
      workspace.edit('x/a.fettle', `${FILES['x/a.fettle']}\nload Lamp { draw: 2 W }`),
    );
    expect(beside).toEqual(['x/a.fettle']);
    expect(await validatedDuring(workspace, () => workspace.edit('x/b.fettle', craft('B', 'note "x"')))).toEqual([
      'x/b.fettle',
    ]);
  });

  it('reaches none that it cannot teach when such a part changes: of a folder of forty, the one with its motor', async () => {
    const others = Object.fromEntries(
      Array.from({ length: 40 }, (_, i) => [
        `x/o${i}.fettle`,
        `use "../p"\nuse "../o"\nbuild O${i} { motors: 4 x N with R\n esc: E\n load: Cam from E.video }`,
      ]),
    );
    const workspace = await Workspace.of({
      ...FILES,
      ...others,
      'o/o.fettle':
        'motor N { stator: 16 x 6 mm  kv: 3150 rpm/V }\npropeller R { diameter: 3 in  blades: 3 }\nload Cam { }\nesc E { rail video { output: 5 V } }',
      'q/q.fettle': 'item L { mass: 3 g }',
      'x/a.fettle': `use "../q"\nuse "../o"\n${craft('A', `item: L\nesc: E\nload: Cam from E.video\n${flown('290 g')}`)}`,
      // What it is like brings the motor.
      'x/heir.fettle': 'use "../y"\nbuild Heir like C { }',
    });
    const validated = await validatedDuring(workspace, () => workspace.edit('q/q.fettle', 'item L { mass: 4 g }'));
    expect(validated).toEqual(['q/q.fettle', 'x/a.fettle', 'x/b.fettle', 'x/heir.fettle']);
  });

  it('reaches them too when a part changes on which it rests', async () => {
    const workspace = await Workspace.of({
      ...FILES,
      'q/q.fettle': 'pack L { cells: 4S  capacity: 850 mAh }',
      'x/a.fettle': `use "../q"\n${craft('A', `pack: L\n${flown('290 g')}`)}`,
    });
    const validated = await validatedDuring(workspace, () =>
      workspace.edit('q/q.fettle', 'pack L { cells: 4S  capacity: 900 mAh }'),
    );
    expect(validated).toEqual(['q/q.fettle', 'x/a.fettle', 'x/b.fettle']);
  });
});
