/** From names to what they represent, and back. */
import { AstUtils, GrammarUtils, type LangiumDocument, type LangiumDocuments } from 'langium';
import type {
  DeclarationProvider,
  DefinitionProvider,
  DocumentHighlightProvider,
  ReferencesProvider,
  TypeDefinitionProvider,
} from 'langium/lsp';
import type {
  DeclarationParams,
  DefinitionParams,
  DocumentHighlightParams,
  ReferenceParams,
  TypeDefinitionParams,
} from 'vscode-languageserver-protocol';
import {
  type DocumentHighlight,
  DocumentHighlightKind,
  type Location,
  LocationLink,
  type Position,
  type Range,
} from 'vscode-languageserver-types';
import { isAlias, isPartNode, isRailNode, isUseNode } from '../grammar/generated/ast.ts';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { type DeclaringNode, firstRail, type Occurrence, occurrencesOf } from '../resolve/occurrences.ts';
import { partNamed } from '../syntax/nodes.ts';
import { partOfTarget } from '../syntax/source.ts';
import { declarationAt, nameLeafAt } from './declarations.ts';
import { documentsOpened } from './engine/documents-opened.ts';
import type { EditorServices } from './engine/editor-services.ts';

const START: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

export class FettleDefinition implements DefinitionProvider {
  readonly #documents: LangiumDocuments;

  constructor(services: EditorServices) {
    this.#documents = services.shared.workspace.LangiumDocuments;
  }

  getDefinition(document: LangiumDocument, params: DefinitionParams): LocationLink[] | undefined {
    const offset = document.textDocument.offsetAt(params.position);
    const leaf = nameLeafAt(document, offset);
    const target = leaf && declarationAt(leaf);
    return leaf === undefined || target === undefined ? this.#openedAt(document, offset) : linkTo(target, leaf.range);
  }

  /** The files that the path of a `use` opens. */
  #openedAt(document: LangiumDocument, offset: number): LocationLink[] | undefined {
    const uses = AstUtils.streamContents(document.parseResult.value).filter(isUseNode);
    for (const use of uses) {
      const path = GrammarUtils.findNodeForProperty(use.$cstNode, 'path');
      if (use.path !== undefined && path !== undefined && path.offset <= offset && offset <= path.end) {
        return documentsOpened(document, use, this.#documents).map((target) =>
          LocationLink.create(target.uri.toString(), START, START, path.range),
        );
      }
    }
    return undefined;
  }
}

/** Of a rail the board that declares it first; of everything else the definition. */
export class FettleDeclaration implements DeclarationProvider {
  readonly #definition: DefinitionProvider;

  constructor(services: EditorServices) {
    this.#definition = services.lsp.DefinitionProvider ?? new FettleDefinition(services);
  }

  getDeclaration(document: LangiumDocument, params: DeclarationParams) {
    const leaf = nameLeafAt(document, document.textDocument.offsetAt(params.position));
    const target = leaf && declarationAt(leaf);
    return leaf !== undefined && isRailNode(target)
      ? linkTo(firstRail(target), leaf.range)
      : this.#definition.getDefinition(document, params);
  }
}

/** From a part to the one it is `like`, from a second name to the part it represents. */
export class FettleTypeDefinition implements TypeDefinitionProvider {
  getTypeDefinition(document: LangiumDocument, params: TypeDefinitionParams): LocationLink[] | undefined {
    const leaf = nameLeafAt(document, document.textDocument.offsetAt(params.position));
    const target = leaf && declarationAt(leaf);
    const family = isPartNode(target) ? partNamed(target.base) : isAlias(target) && partOfTarget(target);
    return leaf !== undefined && isPartNode(family) ? linkTo(family, leaf.range) : undefined;
  }
}

/** Undefined for the shipped parts: they are in no file that a client could open. */
export function linkTo(target: DeclaringNode, origin: Range): LocationLink[] | undefined {
  const { uri } = AstUtils.getDocument(target);
  const name = GrammarUtils.findNodeForProperty(target.$cstNode, 'name') ?? target.$cstNode;
  return name === undefined || uri.scheme === LIBRARY_SCHEME
    ? undefined
    : [LocationLink.create(uri.toString(), (target.$cstNode ?? name).range, name.range, origin)];
}

/** Everywhere that the name at a position is written. */
function occurrencesAt(document: LangiumDocument, position: Position, index: FettleIndex): Occurrence[] {
  const leaf = nameLeafAt(document, document.textDocument.offsetAt(position));
  const target = leaf && declarationAt(leaf);
  return target === undefined ? [] : occurrencesOf(target, index);
}

export class FettleReferences implements ReferencesProvider {
  readonly #index: FettleIndex;

  constructor(services: EditorServices) {
    this.#index = services.shared.workspace.IndexManager;
  }

  findReferences(document: LangiumDocument, params: ReferenceParams): Location[] {
    return occurrencesAt(document, params.position, this.#index)
      .filter(({ isDeclaration }) => params.context.includeDeclaration || !isDeclaration)
      .filter(({ uri }) => !uri.startsWith(`${LIBRARY_SCHEME}:`))
      .map(({ uri, node }) => ({ uri, range: node.range }));
  }
}

export class FettleHighlights implements DocumentHighlightProvider {
  readonly #index: FettleIndex;

  constructor(services: EditorServices) {
    this.#index = services.shared.workspace.IndexManager;
  }

  getDocumentHighlight(document: LangiumDocument, params: DocumentHighlightParams): DocumentHighlight[] {
    return occurrencesAt(document, params.position, this.#index)
      .filter(({ uri }) => uri === document.uri.toString())
      .map(({ node, isDeclaration }) => ({
        range: node.range,
        kind: isDeclaration ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
      }));
  }
}
