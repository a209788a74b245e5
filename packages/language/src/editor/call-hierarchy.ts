/** "Used in": from a part to the builds, variants and test stands that name it, and on; and from these to what they name. */

import { AstUtils, type LangiumDocument, type LangiumDocuments } from 'langium';
import type { CallHierarchyProvider } from 'langium/lsp';
import type {
  CallHierarchyIncomingCallsParams,
  CallHierarchyOutgoingCallsParams,
  CallHierarchyPrepareParams,
} from 'vscode-languageserver-protocol';
import type {
  CallHierarchyIncomingCall,
  CallHierarchyItem,
  CallHierarchyOutgoingCall,
  Range,
} from 'vscode-languageserver-types';
import { isPartNode, type PartNode } from '../grammar/generated/ast.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { partAround } from '../syntax/nodes.ts';
import type { EditorServices } from './engine/editor-services.ts';
import { isShipped, itemOf, itemsAt, partOfItem } from './hierarchy-items.ts';

export class FettleCallHierarchy implements CallHierarchyProvider {
  readonly #index: FettleIndex;
  readonly #documents: LangiumDocuments;

  constructor(services: EditorServices) {
    this.#index = services.shared.workspace.IndexManager;
    this.#documents = services.shared.workspace.LangiumDocuments;
  }

  prepareCallHierarchy(document: LangiumDocument, params: CallHierarchyPrepareParams): CallHierarchyItem[] | undefined {
    return itemsAt(document, params.position);
  }

  incomingCalls({ item }: CallHierarchyIncomingCallsParams): CallHierarchyIncomingCall[] {
    const part = partOfItem(item, this.#documents);
    const users = new Map<PartNode, Range[]>();
    for (const { container, $refNode } of part === undefined ? [] : this.#referencesTo(part)) {
      const user = partAround(container);
      if (user !== undefined && user !== part && $refNode !== undefined) {
        users.set(user, [...(users.get(user) ?? []), $refNode.range]);
      }
    }
    return [...users].map(([user, fromRanges]) => ({ from: itemOf(user), fromRanges }));
  }

  outgoingCalls({ item }: CallHierarchyOutgoingCallsParams): CallHierarchyOutgoingCall[] {
    const part = partOfItem(item, this.#documents);
    const named = new Map<PartNode, Range[]>();
    const references =
      part === undefined ? [] : AstUtils.streamAst(part).flatMap((node) => AstUtils.streamReferences(node));
    for (const { reference } of references) {
      const target = 'ref' in reference ? reference.ref : undefined;
      if (isPartNode(target) && target !== part && !isShipped(target) && reference.$refNode !== undefined) {
        named.set(target, [...(named.get(target) ?? []), reference.$refNode.range]);
      }
    }
    return [...named].map(([target, fromRanges]) => ({ to: itemOf(target), fromRanges }));
  }

  #referencesTo(part: PartNode) {
    return this.#index.referencesTo(part, AstUtils.getDocument(part).uri.toString());
  }
}
