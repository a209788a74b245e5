/** Along `like`: from a part or a build to what is like it, and to what it is like. */
import { ascending } from 'd3-array';
import type { LangiumDocument, LangiumDocuments } from 'langium';
import type { ImplementationProvider, TypeHierarchyProvider } from 'langium/lsp';
import type {
  ImplementationParams,
  TypeHierarchyPrepareParams,
  TypeHierarchySubtypesParams,
  TypeHierarchySupertypesParams,
} from 'vscode-languageserver-protocol';
import type { LocationLink, TypeHierarchyItem } from 'vscode-languageserver-types';
import type { PartNode } from '../grammar/generated/ast.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { heirsOf, variantsOf } from '../resolve/occurrences.ts';
import { partNamed } from '../syntax/nodes.ts';
import { declarationAt, nameLeafAt, partAt } from './declarations.ts';
import type { EditorServices } from './engine/editor-services.ts';
import { isShipped, itemOf, itemsAt, partOfItem } from './hierarchy-items.ts';
import { linkTo } from './navigation.ts';

/** Everything that is like a part, however many steps away, by file and line; of a shipped part, what in the workspace is like it. */
export class FettleImplementation implements ImplementationProvider {
  readonly #index: FettleIndex;

  constructor(services: EditorServices) {
    this.#index = services.shared.workspace.IndexManager;
  }

  getImplementation(document: LangiumDocument, params: ImplementationParams): LocationLink[] | undefined {
    const offset = document.textDocument.offsetAt(params.position);
    const leaf = nameLeafAt(document, offset);
    const part = partAt(document, offset);
    if (leaf === undefined || part === undefined || declarationAt(leaf) === undefined) return undefined;
    return variantsOf(part, this.#index)
      .flatMap((heir) => linkTo(heir, leaf.range) ?? [])
      .sort((one, other) => ascending(one.targetUri, other.targetUri) || lineOf(one) - lineOf(other));
  }
}
const lineOf = ({ targetRange }: LocationLink): number => targetRange.start.line;

/** One step up and down at a time. */
export class FettleTypeHierarchy implements TypeHierarchyProvider {
  readonly #index: FettleIndex;
  readonly #documents: LangiumDocuments;

  constructor(services: EditorServices) {
    this.#index = services.shared.workspace.IndexManager;
    this.#documents = services.shared.workspace.LangiumDocuments;
  }

  prepareTypeHierarchy(document: LangiumDocument, params: TypeHierarchyPrepareParams): TypeHierarchyItem[] | undefined {
    return itemsAt(document, params.position);
  }

  supertypes({ item }: TypeHierarchySupertypesParams): TypeHierarchyItem[] {
    const part = partOfItem(item, this.#documents);
    return itemsOf([partNamed(part?.base)]);
  }

  subtypes({ item }: TypeHierarchySubtypesParams): TypeHierarchyItem[] {
    const part = partOfItem(item, this.#documents);
    return itemsOf(part === undefined ? [] : heirsOf(part, this.#index));
  }
}

const itemsOf = (parts: readonly (PartNode | undefined)[]): TypeHierarchyItem[] =>
  parts.flatMap((part) => (part === undefined || isShipped(part) ? [] : [itemOf(part)]));
