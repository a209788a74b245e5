/** What the editor's sheet does without an editor: look at messages, follow a build, leave alone what did not change. */
import { describe, expect, it } from 'vitest';
import { buildAt, movedUri, renamedTo } from '../../packages/extension/src/sheet/moved-subject.ts';
import { asSubject, fromView, toView } from '../../packages/extension/src/sheet/view-messages.ts';
import { patchOf } from '../../packages/extension/view/patch.ts';

describe('messages of a view', () => {
  it('are taken when they have the right shape, and nothing more of them', () => {
    for (const type of ['ready', 'stop', 'again']) expect(fromView({ type, more: 1 })).toEqual({ type });
    const go = { type: 'go', edition: 1, section: 'fly', target: 2 };
    expect(fromView({ ...go, uri: 'file:///etc/passwd' })).toEqual(go);
  });

  it.each([
    undefined,
    null,
    'ready',
    [],
    {},
    { type: 'open', uri: 'file:///etc/passwd' },
    { type: 'go' },
    { type: 'go', section: 'fly', target: 2 },
    { type: 'go', edition: 1, section: 'fly', target: '2' },
    { type: 'go', edition: 1, section: 'fly', target: 1.5 },
    { type: 'go', edition: 1, section: 7, target: 2 },
  ])('%j is no message', (message) => {
    expect(fromView(message)).toBeUndefined();
  });

  it('is only shown what is a sheet', () => {
    const subject = { uri: 'file:///a.fettle', build: 'Rafter' };
    const show = { type: 'show', subject, edition: 1, sections: [{ id: 'fly', html: '<p>' }] };
    expect(toView(show)).toBe(show);
    expect(toView({ ...show, note: 'late' })).toBeDefined();
    for (const wrong of [
      { edition: '1' },
      { note: 1 },
      { sections: 'all' },
      { sections: [{ id: 'fly' }] },
      { subject: 'Rafter' },
    ])
      expect(toView({ ...show, ...wrong })).toBeUndefined();
  });

  it('shows how far something is in words only', () => {
    const busy = { type: 'busy', words: 'Judging candidates: 64 of 10,001' };
    expect(toView(busy)).toBe(busy);
    expect(toView({ type: 'busy' })).toBeDefined();
    expect(toView({ type: 'busy', words: 64 })).toBeUndefined();
  });

  it('brings back a subject that was kept, or none', () => {
    expect(asSubject({ uri: 'file:///a.fettle', build: 'Rafter', scrolled: 3 })).toEqual({
      uri: 'file:///a.fettle',
      build: 'Rafter',
    });
    for (const wrong of [undefined, null, 3, { uri: 'file:///a.fettle' }]) expect(asSubject(wrong)).toBeUndefined();
  });
});

describe('a sheet follows its build', () => {
  it('to a new name, when that is the only change of names', () => {
    expect(renamedTo('Rafter', ['Rafter', 'Gable'], ['Purlin', 'Gable'])).toBe('Purlin');
    expect(renamedTo('Rafter', ['Rafter', 'Gable'], ['Gable'])).toBeUndefined();
    expect(renamedTo('Rafter', ['Rafter', 'Gable'], ['Purlin', 'Spire'])).toBeUndefined();
    expect(renamedTo('Rafter', ['Gable'], ['Purlin'])).toBeUndefined();
  });

  it('to where its file or folder was moved', () => {
    expect(movedUri('file:///a/b.fettle', 'file:///a/b.fettle', 'file:///a/c.fettle')).toBe('file:///a/c.fettle');
    expect(movedUri('file:///a/b.fettle', 'file:///a', 'file:///z')).toBe('file:///z/b.fettle');
    expect(movedUri('file:///ab/b.fettle', 'file:///a', 'file:///z')).toBeUndefined();
  });

  it('is that of the build above the cursor', () => {
    const build = (name: string, line: number) => ({ name, range: { start: { line } } });
    const builds = [build('Rafter', 5), build('Gable', 20)];
    expect(buildAt(19, builds)?.name).toBe('Rafter');
    expect(buildAt(20, builds)?.name).toBe('Gable');
    expect(buildAt(4, builds)).toBeUndefined();
  });
});

describe('a shown sheet', () => {
  const shown = new Map([
    ['head', '<h1>'],
    ['fly', '<table>'],
    ['shake', '<svg>'],
  ]);

  it('stays as it is where nothing changed', () => {
    const same = [...shown].map(([id, html]) => ({ id, html }));
    expect(patchOf(shown, same)).toEqual({ gone: [], filled: [], order: ['head', 'fly', 'shake'] });
  });

  it('changes only the sections that read differently', () => {
    const wanted = [
      { id: 'head', html: '<h1>' },
      { id: 'findings', html: '<ul>' },
      { id: 'fly', html: '<table class="new">' },
    ];
    expect(patchOf(shown, wanted)).toEqual({
      gone: ['shake'],
      filled: [wanted[1], wanted[2]],
      order: ['head', 'findings', 'fly'],
    });
  });
});
