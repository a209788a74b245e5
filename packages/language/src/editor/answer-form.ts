/**
 * Answers in the form that the client has declared: one that knows no links gets places, one that reads `changes` gets these. The providers
 * answer in the richest form.
 */
import type { Connection } from 'vscode-languageserver';
import type { ClientCapabilities, DocumentSymbolParams } from 'vscode-languageserver-protocol';
import {
  type CodeAction,
  type CompletionItem,
  type CompletionList,
  type Definition,
  type DocumentLink,
  type DocumentSymbol,
  type Hover,
  type Location,
  LocationLink,
  MarkupContent,
  MarkupKind,
  type SignatureHelp,
  type SymbolInformation,
  TextDocumentEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver-types';
import { inWords } from './hover/hover-markdown.ts';

type Links = Definition | LocationLink[] | null | undefined;
// biome-ignore lint/suspicious/noExplicitAny: handlers of every request
type Handler = (...args: any[]) => any;

/** The same connection, as far as handlers are set on it. `declared` is read when there is an answer. */
export function asDeclared(connection: Connection, declared: () => ClientCapabilities): Connection {
  const hoverFormats = () => declared().textDocument?.hover?.contentFormat;
  const withItem = (item: CompletionItem): CompletionItem => {
    const formats = declared().textDocument?.completion?.completionItem?.documentationFormat;
    return item.documentation === undefined
      ? item
      : { ...item, documentation: inFormat(item.documentation, formats) as CompletionItem['documentation'] & {} };
  };
  const ways: Partial<Record<keyof Connection, (answer: never, params: never) => unknown>> = {
    onDefinition: (links: Links) => withLinks(links, declared().textDocument?.definition?.linkSupport),
    onDeclaration: (links: Links) => withLinks(links, declared().textDocument?.declaration?.linkSupport),
    onTypeDefinition: (links: Links) => withLinks(links, declared().textDocument?.typeDefinition?.linkSupport),
    onImplementation: (links: Links) => withLinks(links, declared().textDocument?.implementation?.linkSupport),
    onRenameRequest: (edit: WorkspaceEdit | null) => withEdits(edit, declared()),
    onHover: (hover: Hover | null) => hover && { ...hover, contents: inFormat(hover.contents, hoverFormats()) },
    onCompletion: (list: CompletionList | CompletionItem[] | null) =>
      Array.isArray(list) || !list ? list?.map(withItem) : { ...list, items: list.items.map(withItem) },
    onCompletionResolve: (item: CompletionItem) => withItem(item),
    onSignatureHelp: (help: SignatureHelp | null) => {
      const formats = declared().textDocument?.signatureHelp?.signatureInformation?.documentationFormat;
      const readable = <T extends { documentation?: string | MarkupContent }>(one: T): T =>
        one.documentation === undefined ? one : { ...one, documentation: inFormat(one.documentation, formats) };
      const signatures = help?.signatures.map((one) => ({
        ...readable(one),
        ...(one.parameters && { parameters: one.parameters.map(readable) }),
      }));
      return help && { ...help, signatures };
    },
    onDocumentSymbol: (symbols: (DocumentSymbol | SymbolInformation)[] | null, params: DocumentSymbolParams) =>
      declared().textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true
        ? symbols
        : symbols?.flatMap((symbol) => flat(symbol, params.textDocument.uri)),
    onDocumentLinks: (links: DocumentLink[] | null) =>
      declared().textDocument?.documentLink?.tooltipSupport === true
        ? links
        : links?.map(({ tooltip: _, ...link }) => link),
    onCodeActionResolve: (action: CodeAction) => withAction(action, declared()),
    // All actions are edits.
    onCodeAction: (actions: CodeAction[] | null) =>
      takesActions(declared()) ? actions?.map((action) => withAction(action, declared())) : [],
  };
  const onWillRenameFiles: Handler = (handler: Handler) =>
    connection.workspace.onWillRenameFiles(
      answering(handler, (edit: WorkspaceEdit | null) => withEdits(edit, declared())),
    );
  const own = Object.entries(ways).map(([name, way]): [string, unknown] => [
    name,
    (handler: Handler) => (connection[name as keyof Connection] as Handler)(answering(handler, way)),
  ]);
  return over(connection, [
    ...own,
    ['workspace', over(connection.workspace, [['onWillRenameFiles', onWillRenameFiles]])],
  ]);
}

/** The same object but for some of its members, of which some can be read only. */
const over = <T extends object>(one: T, members: readonly (readonly [string, unknown])[]): T =>
  Object.create(one, Object.fromEntries(members.map(([name, value]) => [name, { value }])));

const answering =
  (handler: Handler, way: Handler): Handler =>
  async (...args) => {
    const answer = await handler(...args);
    return answer instanceof Error ? answer : way(answer, args[0]);
  };

/** Markdown as it is for a client that shows it, as words for one that does not. */
function inFormat(
  content: Hover['contents'] | (CompletionItem['documentation'] & {}),
  formats: readonly MarkupKind[] | undefined,
): Hover['contents'] {
  if (!MarkupContent.is(content) || content.kind === MarkupKind.PlainText) return content;
  if (formats?.includes(MarkupKind.Markdown)) return content;
  return { kind: MarkupKind.PlainText, value: inWords(content.value) };
}

/** An outline for a client that knows no levels. */
function flat(symbol: DocumentSymbol | SymbolInformation, uri: string, containerName?: string): SymbolInformation[] {
  if ('location' in symbol) return [symbol];
  const { name, kind, range, children = [] } = symbol;
  return [
    { name, kind, location: { uri, range }, ...(containerName !== undefined && { containerName }) },
    ...children.flatMap((child) => flat(child, uri, name)),
  ];
}

function withLinks(links: Links, areKnown: boolean | undefined): Links {
  if (areKnown === true || !Array.isArray(links)) return links;
  return links.map(
    (link): Location => (LocationLink.is(link) ? { uri: link.targetUri, range: link.targetSelectionRange } : link),
  );
}

/** Whether the client takes more than commands. */
export const takesActions = ({ textDocument }: ClientCapabilities): boolean =>
  textDocument?.codeAction?.codeActionLiteralSupport !== undefined;

function withAction({ isPreferred, ...action }: CodeAction, declared: ClientCapabilities): CodeAction {
  return {
    ...action,
    ...(isPreferred !== undefined && declared.textDocument?.codeAction?.isPreferredSupport && { isPreferred }),
    ...('edit' in action && { edit: withEdits(action.edit, declared) }),
  };
}

/** Without versions: a client that reads `changes` has no place for them. */
function withEdits<Edit extends WorkspaceEdit | null | undefined>(
  edit: Edit,
  { workspace }: ClientCapabilities,
): Edit | WorkspaceEdit {
  const { documentChanges } = edit ?? {};
  if (workspace?.workspaceEdit?.documentChanges === true || documentChanges === undefined) return edit;
  const changes: NonNullable<WorkspaceEdit['changes']> = {};
  for (const change of documentChanges.filter(TextDocumentEdit.is)) {
    const { uri } = change.textDocument;
    changes[uri] = [...(changes[uri] ?? []), ...change.edits.filter((one) => 'newText' in one)];
  }
  return { changes };
}
