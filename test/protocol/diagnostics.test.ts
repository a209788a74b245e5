import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import {
  DidChangeWorkspaceFoldersNotification,
  DocumentDiagnosticRequest,
  FileChangeType,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver-protocol/node';
import { sessions } from './one-session.ts';
import { codesOf } from './session.ts';
import { PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';
const UNLIMITED = RAFTER.replace(' duty 58 %', '');

test('an unsafe combination is an error with its code, its page and the part that sets the limit', async () => {
  const session = await start({ files: WORKSHOP });
  const diagnostics = await session.open(BUILD, UNLIMITED);
  const overvoltage = diagnostics.find(({ code }) => code === 'motor-overvoltage');
  expect(overvoltage).toMatchObject({
    severity: 1,
    source: 'fettle',
    relatedInformation: [{ location: { uri: session.uri('parts/motors.fettle') } }],
  });
  // A page that every client can open: a file that is shipped with the server.
  const page = readFileSync(fileURLToPath(overvoltage?.codeDescription?.href ?? ''), 'utf8');
  expect(page).toMatch(/^# motor-overvoltage/);
  expect(overvoltage && session.textAt(BUILD, overvoltage.range)).toContain('Slim900_5S');
});

test('each version of a text is answered once, with its version, and with nothing else in between', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  await session.change(BUILD, UNLIMITED);
  await session.change(BUILD, RAFTER);
  const versions = session.published.filter(({ uri }) => uri === session.uri(BUILD)).map(({ version }) => version);
  expect(versions).toEqual([1, 2, 3]);
});

test('a change of a part reaches builds that are not open', async () => {
  const session = await start({ files: { ...WORKSHOP, [BUILD]: UNLIMITED } });
  await session.diagnosticsWhere(BUILD, (found) => codesOf(found).includes('motor-overvoltage'));
  await session.open('parts/motors.fettle', PARTS);
  await session.change('parts/motors.fettle', PARTS.replace('rated: 3S', 'rated: 5S'));
  await session.diagnosticsWhere(BUILD, (found) => !codesOf(found).includes('motor-overvoltage'));
});

test('a change reaches builds through parts that are like the changed one', async () => {
  const variant = UNLIMITED.replace('M1506_3900', 'M1506_2400');
  const session = await start({ files: { ...WORKSHOP, [BUILD]: variant } });
  await session.diagnosticsWhere(BUILD, (found) => codesOf(found).includes('motor-overvoltage'));
  await session.changeFile('parts/motors.fettle', PARTS.replace('rated: 3S', 'rated: 5S'));
  await session.diagnosticsWhere(BUILD, (found) => !codesOf(found).includes('motor-overvoltage'));
});

test('a file that appears gives its names, one that goes takes them', async () => {
  const { 'parts/packs.fettle': packs, ...others } = WORKSHOP;
  const session = await start({ files: others });
  expect(codesOf(await session.open(BUILD, RAFTER))).toContain('unknown-name');
  await session.createFile('parts/packs.fettle', packs);
  await session.diagnosticsWhere(BUILD, (found) => !codesOf(found).includes('unknown-name'));
  await session.deleteFile('parts/packs.fettle');
  await session.diagnosticsWhere(BUILD, (found) => codesOf(found).includes('unknown-name'));
});

test('a deleted file has no findings left', async () => {
  const session = await start({ files: { ...WORKSHOP, 'builds/bad.fettle': 'motor M { kv: 3 }\n' } });
  await session.diagnosticsWhere('builds/bad.fettle', (found) => found.length > 0);
  await session.deleteFile('builds/bad.fettle');
  await session.diagnosticsWhere('builds/bad.fettle', (found) => found.length === 0);
});

test('a folder that comes or goes brings or takes its files', async () => {
  const session = await start({ files: { [BUILD]: RAFTER } });
  expect(codesOf(await session.open(BUILD, RAFTER))).toContain('use-missing');
  for (const path of ['parts/motors.fettle', 'parts/boards.fettle', 'parts/packs.fettle'] as const) {
    session.writeFile(path, WORKSHOP[path]);
  }
  await session.sendFileChange('parts', FileChangeType.Created);
  await session.diagnosticsWhere(BUILD, (found) => codesOf(found).every((code) => code === 'estimates'));
  session.removeFolder('parts');
  await session.sendFileChange('parts', FileChangeType.Deleted);
  await session.diagnosticsWhere(BUILD, (found) => codesOf(found).includes('use-missing'));
});

test('closing without saving brings back the findings of the file', async () => {
  const session = await start({ files: WORKSHOP });
  expect(codesOf(await session.open(BUILD, UNLIMITED))).toContain('motor-overvoltage');
  await session.close(BUILD);
  await session.diagnosticsWhere(BUILD, (found) => !codesOf(found).includes('motor-overvoltage'));
});

test('places are right behind astral characters, tabs and CRLF', async () => {
  const session = await start();
  const text = ['// 🦇🦇 bats', 'motor M "🦇𝒳" { mass: 3.4 mm }', '\titem T "🦇" { mass: 2 V }', ''].join('\r\n');
  const diagnostics = await session.open('bats.fettle', text);
  const wrong = diagnostics.filter(({ code }) => code === 'wrong-dimension');
  expect(wrong.map(({ range }) => session.textAt('bats.fettle', range))).toEqual(['mm', 'V']);
});

test('every range lies inside its text', async () => {
  const session = await start();
  for (const text of ['', '\n', 'motor', 'motor M {', 'build B {\n  pack:', 'use "', '"', '}', 'esc E { rail', '🦇']) {
    const diagnostics = await session.open('half.fettle', text);
    const document = session.document('half.fettle');
    for (const { range } of diagnostics) {
      for (const position of [range.start, range.end]) {
        expect(document.positionAt(document.offsetAt(position))).toEqual(position);
      }
    }
    await session.close('half.fettle');
  }
});

test('a use of which nothing is needed is shown faded', async () => {
  const session = await start({
    files: { ...WORKSHOP, 'rules/r.fettle': 'rules House { reserve: 20 % of capacity }\n' },
  });
  const diagnostics = await session.open(BUILD, `use "../rules"\n${RAFTER}`);
  expect(diagnostics.find(({ code }) => code === 'unused-use')?.tags).toEqual([1]);
});

test('an acceptance of what is not there is shown faded', async () => {
  const session = await start({ files: WORKSHOP });
  const line = 'accept motor-overvoltage because "ten-second hops"';
  const diagnostics = await session.open(BUILD, RAFTER.replace('item: Strap', `item: Strap\n  ${line}`));
  const stale = diagnostics.find(({ code }) => code === 'stale-acceptance');
  expect(stale?.tags).toEqual([1]);
  expect(stale && session.textAt(BUILD, stale.range)).toBe(line);
});

test('a client is answered in its own spelling of a URI', async () => {
  const session = await start({ files: { 'shed (old)/a.fettle': 'item Strap { mass: 1.6 g }\n' } });
  await session.open('shed (old)/a.fettle', 'item Strap { mass: 1.6 mm }\n');
  expect(session.published.at(-1)?.uri).toBe(session.uri('shed (old)/a.fettle'));
});

test('folders that join and leave the workspace bring and take their findings', async () => {
  const session = await start({ files: { 'one/a.fettle': 'item Strap { mass: 1.6 g }\n' } });
  await session.open('one/a.fettle', 'item Strap { mass: 1.6 g }\n');
  const shed = await start({ files: { 'bad.fettle': 'item Strap { mass: 1.6 mm }\n' } });
  const folder = { uri: shed.uri(''), name: 'shed' };
  const bad = shed.uri('bad.fettle');
  const change = DidChangeWorkspaceFoldersNotification.type;
  await session.connection.sendNotification(change, { event: { added: [folder], removed: [] } });
  const reported = (count: number) => () =>
    session.published.findLast(({ uri }) => uri === bad)?.diagnostics.length === count;
  await expect.poll(reported(1)).toBe(true);
  await session.connection.sendNotification(change, { event: { added: [], removed: [folder] } });
  await expect.poll(reported(0)).toBe(true);
});

test('a client that only pulls gets the same findings on request, and no push', async () => {
  const session = await start({
    files: { ...WORKSHOP, [BUILD]: UNLIMITED },
    capabilities: { textDocument: { diagnostic: {} } },
  });
  expect(session.initializeResult.capabilities.diagnosticProvider).toMatchObject({ workspaceDiagnostics: true });
  const textDocument = { uri: session.uri(BUILD) };
  const workspace = await session.connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
  const ofBuild = workspace.items.find(({ uri }) => uri === textDocument.uri);
  expect(ofBuild?.kind === 'full' && codesOf(ofBuild.items)).toContain('motor-overvoltage');
  const report = await session.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument });
  expect(report.kind === 'full' && codesOf(report.items)).toContain('motor-overvoltage');
  const again = await session.connection.sendRequest(DocumentDiagnosticRequest.type, {
    textDocument,
    ...(report.resultId !== undefined && { previousResultId: report.resultId }),
  });
  expect(again.kind).toBe('unchanged');
  expect(session.published).toEqual([]);
});
