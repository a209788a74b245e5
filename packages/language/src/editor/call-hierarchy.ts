/** "Used in": from a part to the builds, variants and test stands that name it, and on; and from these to what they name. */

import { AstUtils, type LangiumDocument, type LangiumDocuments, type ReferenceInfo, URI } from 'langium';
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
import { isPart, type Part } from '../grammar/generated/ast.ts';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { fileOf, namePlace, partAround } from '../syntax/nodes.ts';
import { partOfTarget } from '../syntax/source.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { declarationAt, nameLeafAt } from './declarations.ts';
import type { EditorServices } from './engine/editor-services.ts';
import { rangeOf } from './places.ts';
import { symbolKindOf } from './symbols.ts';

export class FettleCallHierarchy implements CallHierarchyProvider {
  private readonly index: FettleIndex;
  private readonly documents: LangiumDocuments;

  constructor(services: EditorServices) {
    this.index = services.shared.workspace.IndexManager;
    this.documents = services.shared.workspace.LangiumDocuments;
  }

  prepareCallHierarchy(document: LangiumDocument, params: CallHierarchyPrepareParams): CallHierarchyItem[] | undefined {
    const leaf = nameLeafAt(document, document.textDocument.offsetAt(params.position));
    const declaration = leaf && declarationAt(leaf);
    const part = partOfTarget(declaration);
    return part === undefined || isShipped(part) ? undefined : [itemOf(part)];
  }

  incomingCalls({ item }: CallHierarchyIncomingCallsParams): CallHierarchyIncomingCall[] {
    const part = this.partOf(item);
    const users = new Map<Part, Range[]>();
    for (const { container, $refNode } of part === undefined ? [] : this.referencesTo(part)) {
      const user = partAround(container);
      if (user !== undefined && user !== part && $refNode !== undefined) {
        users.set(user, [...(users.get(user) ?? []), $refNode.range]);
      }
    }
    return [...users].map(([user, fromRanges]) => ({ from: itemOf(user), fromRanges }));
  }

  outgoingCalls({ item }: CallHierarchyOutgoingCallsParams): CallHierarchyOutgoingCall[] {
    const part = this.partOf(item);
    const named = new Map<Part, Range[]>();
    const references =
      part === undefined ? [] : AstUtils.streamAst(part).flatMap((node) => AstUtils.streamReferences(node));
    for (const { reference } of references as Iterable<ReferenceInfo>) {
      const target = 'ref' in reference ? reference.ref : undefined;
      if (isPart(target) && target !== part && !isShipped(target) && reference.$refNode !== undefined) {
        named.set(target, [...(named.get(target) ?? []), reference.$refNode.range]);
      }
    }
    return [...named].map(([target, fromRanges]) => ({ to: itemOf(target), fromRanges }));
  }

  private referencesTo(part: Part) {
    return this.index.referencesTo(part, AstUtils.getDocument(part).uri.toString());
  }

  /** Found by its name: the text may have moved on since the client was given the item. */
  private partOf(item: CallHierarchyItem): Part | undefined {
    const document = this.documents.getDocument(URI.parse(item.uri));
    const file = document && fileOf(document);
    return file?.parts.find((part) => part.name === item.name);
  }
}

function itemOf(part: Part): CallHierarchyItem {
  const document = AstUtils.getDocument(part);
  const name = namePlace(part);
  const selectionRange = rangeOf(document, name.start, name.end);
  return {
    name: part.name ?? '',
    kind: symbolKindOf(part),
    detail: part.title === undefined ? part.kind : `${part.kind} · ${terminalSafe(part.title)}`,
    uri: document.uri.toString(),
    range: part.$cstNode?.range ?? selectionRange,
    selectionRange,
  };
}

function isShipped(part: Part): boolean {
  return AstUtils.getDocument(part).uri.scheme === LIBRARY_SCHEME;
}
