import { AstUtils, type LangiumDocument, URI, UriUtils } from 'langium';
import type { RenameProvider } from 'langium/lsp';
import {
  LSPErrorCodes,
  type RenameParams,
  ResponseError,
  type TextDocumentPositionParams,
} from 'vscode-languageserver-protocol';
import type { Range, TextEdit, WorkspaceEdit } from 'vscode-languageserver-types';
import { isAlias, isPartNode, isRailNode, isUseNode, type PartNode, type RailNode } from '../grammar/generated/ast.ts';
import { isName } from '../grammar/reserved-words.ts';
import type { PartEntry } from '../resolve/folder-names.ts';
import { keyOf, LIBRARY_SCHEME } from '../resolve/keys.ts';
import { lookupOf } from '../resolve/linker.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { type DeclaringNode, mentionsInRules, occurrencesOf } from '../resolve/occurrences.ts';
import { chainOf } from '../syntax/chain.ts';
import { entriesOf } from '../syntax/entries.ts';
import { fileOf, partAround, railsOf } from '../syntax/nodes.ts';
import { article } from '../vocabulary/phrasing.ts';
import { isBuiltInWord } from '../vocabulary/words.ts';
import { declarationAt, nameLeafAt } from './declarations.ts';
import type { EditorServices, EngineServices } from './engine/editor-services.ts';

/** Renames a part, a rail, a second name or a `use` everywhere, or gives the reason why not. */
export class FettleRename implements RenameProvider {
  readonly #index: FettleIndex;
  readonly #workspace: EngineServices['workspace'];

  constructor(services: EditorServices) {
    this.#workspace = services.shared.workspace;
    this.#index = services.shared.workspace.IndexManager;
  }

  prepareRename(document: LangiumDocument, params: TextDocumentPositionParams): Range | undefined {
    const leaf = nameLeafAt(document, document.textDocument.offsetAt(params.position));
    const declaration = leaf && declarationAt(leaf);
    if (leaf === undefined || declaration === undefined) return undefined;
    refuse(libraryProblem(declaration));
    return leaf.range;
  }

  rename(document: LangiumDocument, params: RenameParams): WorkspaceEdit | undefined {
    const leaf = nameLeafAt(document, document.textDocument.offsetAt(params.position));
    const declaration = leaf && declarationAt(leaf);
    if (leaf === undefined || declaration === undefined) return undefined;
    const { newName } = params;
    if (newName === leaf.text) return { documentChanges: [] };
    refuse(libraryProblem(declaration) ?? nameProblem(newName) ?? this.#collision(declaration, newName));
    const edits = new Map<string, TextEdit[]>();
    for (const { uri, node } of occurrencesOf(declaration, this.#index)) {
      edits.set(uri, [...(edits.get(uri) ?? []), { range: node.range, newText: newName }]);
    }
    return { documentChanges: [...edits].map(([uri, own]) => ({ textDocument: this.#versioned(uri), edits: own })) };
  }

  #versioned(uri: string): { uri: string; version: number | null } {
    const document = this.#index.documentOf(uri);
    return { uri, version: document ? this.#workspace.TextDocuments.versionOf(document) : null };
  }

  #collision(declaration: DeclaringNode, name: string): string | undefined {
    if (isPartNode(declaration)) return this.#partCollision(declaration, name);
    if (isRailNode(declaration)) {
      const board = partAround(declaration);
      return board && railsOf(board).has(name)
        ? `${board.name} already has a rail ${name}`
        : rulesProblem(declaration, this.#index);
    }
    if (isUseNode(declaration)) {
      const { uses } = fileOf(AstUtils.getDocument(declaration));
      return uses.some((use) => use.name === name) ? `this file already uses ${name} as a second name` : undefined;
    }
    const build = isAlias(declaration) ? partAround(declaration) : undefined;
    return build && isNamedIn(build, name) ? `${build.name} already has another ${name}` : undefined;
  }

  /** In its own folder, and in every build that names it, the new name must still be free. */
  #partCollision(part: PartNode, name: string): string | undefined {
    const folder = keyOf(UriUtils.dirname(AstUtils.getDocument(part).uri));
    const [other] = this.#index.inFolder(folder, name);
    if (other !== undefined) {
      return `there is already ${article(other.kind)} ${other.kind} ${name} in ${lastStep(other.file)}`;
    }
    const occurrences = occurrencesOf(part, this.#index);
    const users = occurrences.flatMap(({ node }) => partAround(node.astNode) ?? []);
    const build = users.find((user) => user.kind === 'build' && isNamedIn(user, name));
    if (build !== undefined) return `${build.name} already has another ${name}`;
    return this.#otherMeaning(part, new Set(occurrences.map(({ uri }) => uri)), name);
  }

  /** Where the part is named the new name must not be seen already, and whoever uses the new name must not see the part. */
  #otherMeaning(part: PartNode, users: ReadonlySet<string>, name: string): string | undefined {
    for (const uri of users) {
      const [other] = entriesInSight(this.#index.documentOf(uri), this.#index, name);
      if (other !== undefined) {
        return `${lastStep(uri)} sees ${article(other.kind)} ${other.kind} ${name} already, in ${lastStep(other.file)}`;
      }
    }
    const own = AstUtils.getDocument(part).uri.toString();
    for (const uri of this.#index.mentioning([name])) {
      const document = this.#index.documentOf(uri);
      if (document !== undefined && uri !== own && sees(document, own)) {
        return `${lastStep(uri)} declares another ${name}, and would refer to this one instead`;
      }
    }
    return undefined;
  }
}

function entriesInSight(document: LangiumDocument | undefined, index: FettleIndex, name: string): readonly PartEntry[] {
  const openings = document && lookupOf(document)?.openings;
  if (document === undefined || openings === undefined) return [];
  const own = index.inFolder(keyOf(UriUtils.dirname(document.uri)), name);
  return [...own, ...openings.unqualified(document).flatMap((opening) => openings.entries(opening, name))];
}

/** Whether names of a file are seen without anything before them. */
function sees(document: LangiumDocument, file: string): boolean {
  const folder = keyOf(UriUtils.dirname(URI.parse(file)));
  if (keyOf(UriUtils.dirname(document.uri)) === folder) return true;
  const openings = lookupOf(document)?.openings.unqualified(document) ?? [];
  return openings.some((opening) => opening.folder === folder || opening.file === file);
}

/** Rules that hold for builds with other boards name all their rails with one word. */
function rulesProblem(rail: RailNode, index: FettleIndex): string | undefined {
  const torn = mentionsInRules(rail, index).find(({ stranger }) => stranger !== undefined);
  return (
    torn &&
    `the rules ${torn.rules.name} name ${rail.name}, and in ${torn.stranger?.name} that is not this rail: rename both manually`
  );
}

function isNamedIn(build: PartNode, name: string): boolean {
  return entriesOf(chainOf(build).parts).some((entry) => entry.name === name);
}

function libraryProblem(declaration: DeclaringNode): string | undefined {
  const isShipped = AstUtils.getDocument(declaration).uri.scheme === LIBRARY_SCHEME;
  return isShipped ? 'this part is shipped with the language and cannot be renamed' : undefined;
}

function nameProblem(name: string): string | undefined {
  if (!isName(name)) {
    return `"${name}" cannot be a name: letters, digits and _, a letter first, and no word of the language`;
  }
  return isBuiltInWord(name) ? `"${name}" is a word of the language` : undefined;
}

function refuse(problem: string | undefined): void {
  if (problem !== undefined) throw new ResponseError(LSPErrorCodes.RequestFailed, problem);
}

function lastStep(uri: string): string {
  return decodeURIComponent(uri.slice(uri.lastIndexOf('/') + 1));
}
