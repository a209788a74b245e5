/** Answers of the server that are one line: where something is, what is shown in or above a line. */
import type {
  CodeLens,
  InlayHint,
  Location,
  LocationLink,
  SemanticTokens,
  SignatureHelp,
} from 'vscode-languageserver-protocol/node';
import { uriOf } from '../references/memory-workspace.ts';
import { type CaseServer, pathOf } from './case-server.ts';
import { at, type Mark } from './marks.ts';

/** `definition FILE:LINE:COLUMN, …` and others: where something is, in their order. */
async function placesIn(server: CaseServer, { path, range }: Mark, method: string): Promise<string | undefined> {
  const params = { position: range.start, context: { includeDeclaration: false } };
  const found = await server.ask<readonly (Partial<Location> & Partial<LocationLink>)[] | null>(path, method, params);
  const places = found?.map((one) => {
    const { line, character } = (one.targetSelectionRange ?? one.range ?? range).start;
    const of = pathOf(one.targetUri ?? one.uri ?? uriOf(path).toString());
    return { of, line, character };
  });
  const inOrder = places?.toSorted(
    (one, other) => one.of.localeCompare(other.of) || one.line - other.line || one.character - other.character,
  );
  return inOrder?.map(({ of, line, character }) => `${of}:${line + 1}:${character + 1}`).join(', ');
}

/** `shape LINE` of what belongs in a line, the slot that is typed now between arrows. */
async function shapeIn(server: CaseServer, { path, range }: Mark): Promise<string | undefined> {
  const help = await server.ask<SignatureHelp | null>(path, 'textDocument/signatureHelp', {
    position: range.start,
  });
  const [signature] = help?.signatures ?? [];
  const slot = signature?.parameters?.[help?.activeParameter ?? 0]?.label;
  return typeof slot === 'string' ? signature?.label.replace(slot, `→${slot}←`) : signature?.label;
}

/** `colour TYPE` of the word there; as the protocol has it, five numbers a token, each place relative to the last. */
async function colourIn(server: CaseServer, { path, range: { start, end } }: Mark): Promise<string | undefined> {
  const { data = [] } = (await server.ask<SemanticTokens | null>(path, 'textDocument/semanticTokens/full', {})) ?? {};
  let [line, character] = [0, 0];
  for (let i = 0; i < data.length; i += 5) {
    const [lines = 0, characters = 0, length = 0, type = 0] = data.slice(i, i + 4);
    [line, character] = [line + lines, lines === 0 ? character + characters : characters];
    if (line === start.line && character === start.character && character + length === end.character)
      return server.colours[type];
  }
  return undefined;
}

/** `lenses TITLE · TITLE` of all that are there. */
async function lensesIn(server: CaseServer, { path, range }: Mark): Promise<string | undefined> {
  const lenses = (await server.ask<CodeLens[] | null>(path, 'textDocument/codeLens', {})) ?? [];
  const there = lenses.filter((one) => at(one.range) === at(range));
  const shown = await Promise.all(
    there.map((one) => (one.command ? one : server.ask<CodeLens>(path, 'codeLens/resolve', one))),
  );
  return shown.map(({ command }) => command?.title).join(' · ');
}

/** `inlays WORDS` that are shown behind what is marked. */
async function inlaysIn(server: CaseServer, { path, range }: Mark): Promise<string | undefined> {
  const hints = (await server.ask<InlayHint[] | null>(path, 'textDocument/inlayHint', { range })) ?? [];
  const there = hints.filter(
    ({ position }) => at({ start: position, end: position }) === at({ start: range.end, end: range.end }),
  );
  return there
    .map(({ label }) => (typeof label === 'string' ? label : label.map(({ value }) => value).join('')))
    .join(' ');
}

/** What a mark of one line states whole; the answer of the server, if it has one. */
export const ONE_LINE_ANSWERS: Readonly<
  Record<string, (server: CaseServer, mark: Mark) => Promise<string | undefined>>
> = {
  definition: (server, mark) => placesIn(server, mark, 'textDocument/definition'),
  declaration: (server, mark) => placesIn(server, mark, 'textDocument/declaration'),
  type: (server, mark) => placesIn(server, mark, 'textDocument/typeDefinition'),
  implementations: (server, mark) => placesIn(server, mark, 'textDocument/implementation'),
  references: (server, mark) => placesIn(server, mark, 'textDocument/references'),
  highlights: (server, mark) => placesIn(server, mark, 'textDocument/documentHighlight'),
  shape: shapeIn,
  colour: colourIn,
  lenses: lensesIn,
  inlays: inlaysIn,
};
