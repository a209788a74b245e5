/** Each page's failing example in an editor: whichever quick fix is taken, its finding is gone, no mistake is in its place, and the craft still lifts off. */
import { describe, expect, test } from 'vitest';
import {
  type CodeAction,
  CodeActionRequest,
  type Diagnostic,
  TextDocumentEdit,
  type TextEdit,
} from 'vscode-languageserver-protocol/node';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import { sharedSession } from './one-session.ts';
import type { Session } from './session.ts';

/** Findings whose example a change of the text cures; where a duty limit would leave a craft that hardly flies, another part is named instead. */
const MENDED = [
  'motor-overvoltage',
  'motor-overpower',
  'pack-overcurrent',
  'pack-oversag',
  'flight-ends-aloft',
  'syntax',
  'unknown-name',
  'wrong-dimension',
  'missing-unit',
  'unknown-unit',
  'number-form',
  'implausible-value',
  'duplicate',
  'one-a-line',
  'former-name',
  'stale-acceptance',
  'unused-use',
];
/** What no fix may leave behind. */
const WORSE = ['cannot-hover', 'syntax', 'unknown-name', 'missing-value', 'clause', 'duplicate'];

/** Acceptances have a test of their own: their reason is left to whoever accepts. */
async function fixesOf(
  session: Session,
  path: string,
  id: string,
  found: readonly Diagnostic[],
): Promise<CodeAction[]> {
  const about = found.filter(({ code }) => code === id);
  const offered = await Promise.all(
    about.map(({ range }) =>
      session.connection.sendRequest(CodeActionRequest.type, {
        textDocument: { uri: session.uri(path) },
        range,
        context: { diagnostics: about, only: ['quickfix'] },
      }),
    ),
  );
  return (offered.flatMap((actions) => actions ?? []) as CodeAction[]).filter(
    ({ title, diagnostics }) => !title.startsWith('Accept') && diagnostics?.some(({ code }) => code === id),
  );
}

describe('a quick fix', () => {
  const theSession = sharedSession({ files: { 'craft.fettle': EXAMPLE_CRAFT } });

  test.each(Object.entries(PAGES).filter(([, { fails }]) => fails))('of %s', async (id, { fails }) => {
    const session = theSession();
    const path = `${id}.fettle`;
    const before = await session.open(path, fails);
    const fixes = await fixesOf(session, path, id, before);
    expect(fixes.length > 0).toBe(MENDED.includes(id));
    for (const fix of fixes) {
      const change = fix.edit?.documentChanges?.[0];
      if (!change || !TextDocumentEdit.is(change)) throw new Error(`no edit in ${fix.title}`);
      // A pack that is inherited gets its limit where it is written.
      if (change.textDocument.uri !== session.uri(path)) {
        expect(change.textDocument.uri).toBe(session.uri('craft.fettle'));
        continue;
      }
      await session.changeWithoutWaiting(path, fails);
      const after = await session.change(path, session.withEdits(path, change.edits as TextEdit[]));
      const count = (found: typeof after) => found.filter(({ code }) => code === id).length;
      expect(count(after), fix.title).toBeLessThan(count(before));
      const codesBefore = before.map(({ code }) => code);
      const brought = after.map(({ code }) => code).filter((code) => !codesBefore.includes(code));
      expect(brought.filter((code) => WORSE.includes(String(code)))).toEqual([]);
    }
  });
});
