/** What belongs in a line, while it is typed. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  type SignatureHelp,
  type SignatureHelpContext,
  SignatureHelpRequest,
  SignatureHelpTriggerKind,
} from 'vscode-languageserver-protocol/node';
import type { EditorServices } from '../../packages/language/src/editor/engine/editor-services.ts';
import { FettleSignatureHelp } from '../../packages/language/src/editor/signature-help.ts';
import { SENTENCE_WORDS } from '../../packages/language/src/grammar/reserved-words.ts';
import { SENTENCE_SHAPES, shapeOf } from '../../packages/language/src/syntax/sentence-shapes.ts';
import { BLOCK_KINDS, schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import { uriOf, Workspace } from '../references/memory-workspace.ts';
import { sharedSession } from './one-session.ts';
import { Session } from './session.ts';
import { WORKSHOP } from './workshop.ts';

const theSession = sharedSession({ files: WORKSHOP });
const PATH = 'builds/typed.fettle';
const INVOKED: SignatureHelpContext = { triggerKind: SignatureHelpTriggerKind.Invoked, isRetrigger: false };
const TYPED: SignatureHelpContext = {
  triggerKind: SignatureHelpTriggerKind.TriggerCharacter,
  triggerCharacter: ' ',
  isRetrigger: false,
};

async function helpAt(text: string, context = INVOKED, session = theSession()): Promise<SignatureHelp | null> {
  const offset = text.indexOf('|');
  await session.open(PATH, text.replace('|', ''));
  const position = session.document(PATH).positionAt(offset);
  const help = await session.connection.sendRequest(SignatureHelpRequest.type, {
    ...session.at(PATH, position),
    context,
  });
  await session.close(PATH);
  return help;
}

test('each slot has its own words', async () => {
  for (const [line, label, words] of [
    ['pack: |', 'in parallel | series', 'How several are joined.'],
    ['load: |', 'from pack | RAIL | REGULATOR | ESC', 'What feeds it.'],
    ['load: |', 'at NUMBER mm', 'Its position, for the balance.'],
    ['air: |', 'at NUMBER m', 'At which height above the sea.'],
  ] as const) {
    const [signature] = (await helpAt(inBuild(line)))?.signatures ?? [];
    const slot = signature?.parameters?.find((one) => one.label === label);
    expect(slot?.documentation).toMatchObject({ value: words });
  }
});

test('no clause of any line is without words, and only that which joins packs joins', () => {
  for (const { properties } of BLOCK_KINDS.map(schemaOf))
    for (const property of Object.values(properties))
      for (const { word, text, description } of shapeOf(property).slots)
        if (word !== undefined) {
          expect(description, `${property.name} ${text}`).toMatch(/^[A-Z].{4,}\.$/);
          expect(/joined/.test(description)).toBe(property.name === 'pack' && (word === 'in' || word === 'with'));
        }
});

const inBuild = (line: string): string => `use "../parts"\nbuild B {\n  ${line}\n}\n`;

test('a single figure gets no help unless requested', async () => {
  const figure = 'motor M {\n  kv: |\n}\n';
  expect(await helpAt(figure, TYPED)).toBeNull();
  expect(await helpAt(figure)).not.toBeNull();
  expect(await helpAt(inBuild('pack: |'), TYPED)).not.toBeNull();
});

test('each slot is explained, in the form that the client shows', async () => {
  const help = await helpAt(inBuild('pack: |'));
  expect(help?.signatures[0]?.parameters?.[3]).toEqual({
    label: 'duty NUMBER %',
    documentation: { kind: 'markdown', value: expect.stringContaining('duty limit') },
  });
  const plain = await Session.start({ capabilities: { textDocument: { signatureHelp: {} } } });
  const words = await helpAt(inBuild('pack: |'), INVOKED, plain);
  expect(words?.signatures[0]?.documentation).toMatchObject({
    kind: 'plaintext',
    value: expect.not.stringMatching(/`/),
  });
  await plain.stop();
  const none = await Session.start({ capabilities: { textDocument: {} } });
  expect(none.initializeResult.capabilities.signatureHelpProvider).toBeUndefined();
  await none.stop();
});

describe('the shapes are those of the language', () => {
  test('every sentence has one', () => {
    expect([...SENTENCE_WORDS].filter((word) => !SENTENCE_SHAPES.has(word))).toEqual(['rows']);
  });

  test('each clause that the examples write is a slot of its line', async () => {
    const folder = join(import.meta.dirname, '../../examples');
    const files = ['builds', 'parts', 'rules', 'stands'].flatMap((name) =>
      readdirSync(join(folder, name))
        .filter((file) => file.endsWith('.fettle'))
        .map((file) => `${name}/${file}`),
    );
    const texts = Object.fromEntries(files.map((file) => [file, readFileSync(join(folder, file), 'utf8')]));
    const workspace = await Workspace.of(texts);
    const provider = new FettleSignatureHelp(workspace.services.fettle as unknown as EditorServices);
    let seen = 0;
    for (const file of files) {
      const document = workspace.document(file);
      for (const clause of texts[file]?.matchAll(/ (with|duty|as|from|on|for|because|at|measured|claimed) (?=\S)/g) ??
        []) {
        const position = document.textDocument.positionAt(clause.index + clause[0].length);
        const help = provider.provideSignatureHelp(document, {
          textDocument: { uri: uriOf(file).toString() },
          position,
        });
        // In a comment, a quoted text or a pattern of bolts it is no clause.
        const row = document.textDocument
          .getText()
          .slice(document.textDocument.offsetAt({ ...position, character: 0 }), clause.index);
        if (
          row.includes('//') ||
          (row.match(/"/g) ?? []).length % 2 === 1 ||
          row.includes('bolts:') ||
          row.includes('rows')
        )
          continue;
        const active = help?.signatures[0]?.parameters?.[help.activeParameter ?? 0]?.label;
        expect(active, `${file}: ${row}${clause[0]}`).toContain(clause[1]);
        seen++;
      }
    }
    expect(seen).toBeGreaterThan(60);
  });
});
