/** Each build of the saved files, compared with a commit. */
import { expect, test } from 'vitest';
import { CodeLensRefreshRequest, DidSaveTextDocumentNotification } from 'vscode-languageserver-protocol/node';
import { reviewRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { begin, commit, git } from './committed-folder.ts';
import { sessions } from './one-session.ts';
import type { Session } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';
const capabilities = {
  textDocument: { publishDiagnostics: {} },
  workspace: { codeLens: { refreshSupport: true } },
};

async function lenses(session: Session): Promise<string[]> {
  return (await session.lensesOf(BUILD)).flatMap(({ command }) => command?.title ?? []);
}

function refreshed(session: Session): Promise<void> {
  return new Promise((resolve) => session.connection.onRequest(CodeLensRefreshRequest.type, () => resolve()));
}

test('a line has the former name of a build, and what is no longer required of it', async () => {
  const asking = RAFTER.replace('item: Strap', 'item: Strap\n  require all_up_weight <= 900 g');
  const session = await start({ files: { ...WORKSHOP, [BUILD]: asking }, capabilities });
  begin(session);
  session.writeFile(BUILD, RAFTER.replace('build Rafter', 'build Loft'));
  const { builds } = await session.connection.sendRequest(reviewRequest, {});
  expect(builds.map(({ line }) => line)).toEqual([
    'renamed from Rafter; 1 requirement taken away (require all_up_weight <= 900 g)',
  ]);
});

test('a lens above a build reports what differs from the last commit, after a save and not while typing', async () => {
  const session = await start({ files: WORKSHOP, capabilities });
  begin(session);
  await session.open(BUILD, RAFTER);
  const change = (titles: string[]) => titles.filter((title) => title.startsWith('since the last commit'));
  expect(change(await lenses(session))).toEqual([]);
  const heavier = RAFTER.replace('item: Strap', 'item: Strap\n  item: 9 g "lamp"');
  await session.change(BUILD, heavier);
  expect(change(await lenses(session))).toEqual([]);
  session.writeFile(BUILD, heavier);
  const requested = refreshed(session);
  const textDocument = { uri: session.uri(BUILD) };
  await session.connection.sendNotification(DidSaveTextDocumentNotification.type, { textDocument });
  await requested;
  expect(change(await lenses(session))).toEqual([
    expect.stringMatching(/^since the last commit: all-up weight [\d.]+ → [\d.]+ g, .* on Slim900_3S and 1 more pack$/),
  ]);
});

test('what cannot be compared is reported in a sentence', async () => {
  const session = await start({ files: WORKSHOP, capabilities });
  const review = (params: object): Promise<string> =>
    session.connection
      .sendRequest<unknown>('fettle/review', params)
      .then(JSON.stringify, (error: Error) => error.message);
  expect(await review({})).toContain('not a git repository');
  git(session, 'init', '-q', '-b', 'main');
  expect(await review({})).toContain('no revision “HEAD”');
  commit(session);
  expect(await review({ base: '--output=/tmp/x' })).toContain('begins with a dash');
  expect(await review({ base: 'nobody' })).toContain('no revision “nobody”');
  expect(await review({ base: 12 })).toContain('the parameters are');
  expect(await review({ uri: 'vscode-vfs://somewhere/x.fettle' })).toContain('needs git');
});

test('git is not run where the client states that the workspace is not trusted', async () => {
  const session = await start({ files: WORKSHOP, capabilities, initializationOptions: { git: false } });
  begin(session);
  await expect(session.connection.sendRequest(reviewRequest, {})).rejects.toThrow('not trusted');
});
