import { Cancellation, DocumentState } from 'langium';
import { expect, it } from 'vitest';
import { uriOf, Workspace } from './memory-workspace.ts';

it('a build that is interrupted as a document is done still notifies everybody of that document', async () => {
  const workspace = await Workspace.of({ 'a.fettle': 'item A { mass: 1 g }' });
  const builder = workspace.services.shared.workspace.DocumentBuilder;
  const edit = new Cancellation.CancellationTokenSource();
  const reported: string[] = [];
  builder.onDocumentPhase(DocumentState.Validated, () => edit.cancel());
  builder.onDocumentPhase(DocumentState.Validated, (document) => {
    reported.push(document.uri.path);
  });
  workspace.files.texts.set(uriOf('a.fettle').path, 'item A { mass: 2 g }');
  await builder.update([uriOf('a.fettle')], [], edit.token).catch(() => undefined);
  expect(reported).toEqual([uriOf('a.fettle').path]);
});

it('what was linked when a build was interrupted follows the next edit of what it names', async () => {
  const workspace = await Workspace.of({
    'p/p.fettle': 'load Cam { }',
    'b/b.fettle': 'use "../p"\nbuild B { load: Cam }',
    'c/c.fettle': 'use "../p"\nbuild C { load: Cam }',
  });
  const builder = workspace.services.shared.workspace.DocumentBuilder;
  const edit = new Cancellation.CancellationTokenSource();
  const listener = builder.onDocumentPhase(DocumentState.Linked, ({ uri }) => {
    if (uri.path !== uriOf('p/p.fettle').path) edit.cancel();
  });
  workspace.files.texts.set(uriOf('p/p.fettle').path, 'load Cam { draw: 2 W }');
  await builder.update([uriOf('p/p.fettle')], [], edit.token).catch(() => undefined);
  listener.dispose();
  await workspace.edit('p/p.fettle', 'load Camera { draw: 2 W }');
  for (const path of ['b/b.fettle', 'c/c.fettle'])
    expect(workspace.problems(path).map(({ id }) => id)).toEqual(['unknown-name']);
});

it('what was looked up in a document before its turn came is looked up anew when the build was interrupted', async () => {
  const workspace = await Workspace.of({
    'p/p.fettle': 'load Cam { }',
    'b/heir.fettle': 'use "../a"\nuse "../p"\nbuild Heir like Base { without: Cam }',
  });
  const builder = workspace.services.shared.workspace.DocumentBuilder;
  const edit = new Cancellation.CancellationTokenSource();
  const listener = builder.onDocumentPhase(DocumentState.Linked, ({ uri }) => {
    if (uri.path === uriOf('b/heir.fettle').path) edit.cancel();
  });
  workspace.files.texts.set(uriOf('a/base.fettle').path, 'use "../p"\nbuild Base { load: Cam }');
  await builder.update([uriOf('a/base.fettle')], [], edit.token).catch(() => undefined);
  listener.dispose();
  await workspace.edit('p/p.fettle', 'load Camera { }');
  expect(workspace.reported('a/base.fettle')).toEqual(['Cam | unknown-name: no such load: Cam']);
});
