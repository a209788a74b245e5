import { Cancellation, DocumentState } from 'langium';
import { expect, it } from 'vitest';
import { uriOf, Workspace } from './workspace.ts';

it('a build that is interrupted as a document is done still tells everybody of that document', async () => {
  const workspace = await Workspace.of({ 'a.fettle': 'item A { mass: 1 g }' });
  const builder = workspace.services.shared.workspace.DocumentBuilder;
  const edit = new Cancellation.CancellationTokenSource();
  const told: string[] = [];
  builder.onDocumentPhase(DocumentState.Validated, () => edit.cancel());
  builder.onDocumentPhase(DocumentState.Validated, (document) => {
    told.push(document.uri.path);
  });
  workspace.files.texts.set(uriOf('a.fettle').path, 'item A { mass: 2 g }');
  await builder.update([uriOf('a.fettle')], [], edit.token).catch(() => undefined);
  expect(told).toEqual([uriOf('a.fettle').path]);
});
