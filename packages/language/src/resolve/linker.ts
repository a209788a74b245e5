/** Links the names of a document to what they refer to, and remembers which document was linked by which lookup. */
import {
  type AstNode,
  type AstNodeDescription,
  Cancellation,
  type CstNode,
  DocumentState,
  interruptAndCheck,
  type LangiumDocument,
  type Linker,
  type LinkingError,
  type MultiReference,
  type Reference,
  type ReferenceInfo,
} from 'langium';
import { isNamedNode, isResultNode } from '../grammar/generated/ast.ts';
import { forget } from '../syntax/memory.ts';
import { documentOf, nodesIn } from '../syntax/nodes.ts';
import { isMissing, type Lookup, type Missing } from './lookup.ts';
import { FettleReference, type Holder, segmentsOf } from './reference.ts';

/** Gives the reason, for a finding. */
export interface FettleLinkingError extends LinkingError {
  readonly missing: Missing;
}

const lookups = new WeakMap<LangiumDocument, Lookup>();

/** The lookup that links a document; undefined before its names are known. */
export function lookupOf(document: LangiumDocument): Lookup | undefined {
  return lookups.get(document);
}

export class FettleLinker implements Linker {
  readonly #lookup: Lookup;

  constructor(lookup: Lookup) {
    this.#lookup = lookup;
  }

  /** What it opens is known from now on: another document may be computed from it before it is linked itself. */
  adopt(document: LangiumDocument): void {
    lookups.set(document, this.#lookup);
  }

  /** At one go: looking at the clock at every node takes longer than linking. */
  async link(document: LangiumDocument, cancelToken = Cancellation.CancellationToken.None): Promise<void> {
    await interruptAndCheck(cancelToken);
    this.adopt(document);
    forget(document);
    for (const reference of referencesIn(document.parseResult.value)) reference.ref;
  }

  unlink(document: LangiumDocument): void {
    forget(document);
    for (const reference of document.references) if (reference instanceof FettleReference) reference.forget();
    document.references = [];
  }

  getCandidate(info: ReferenceInfo): AstNodeDescription | LinkingError {
    const { reference } = info;
    return reference instanceof FettleReference ? this.#resolve(reference) : this.#unlinked(info);
  }

  getCandidates(info: ReferenceInfo): AstNodeDescription[] | LinkingError {
    const candidate = this.getCandidate(info);
    return 'name' in candidate ? [candidate] : candidate;
  }

  buildReference(node: AstNode, property: string, refNode: CstNode | undefined, refText: string): Reference {
    const place = property === 'head' ? 'head' : 'tail';
    const reference = new FettleReference(node as Holder, place, refNode, refText, (requested) =>
      this.#first(requested),
    );
    return reference as Reference;
  }

  /** The grammar has none. */
  buildMultiReference(_node: AstNode, property: string): MultiReference {
    throw new Error(`no rule of the grammar lets "${property}" refer to several things`);
  }

  /** The first look at a reference. Undefined while names are still being collected: try again later. */
  #first(reference: FettleReference): AstNodeDescription | LinkingError | undefined {
    const document = documentOf(reference.container)?.parseResult.value.$document;
    if (!document || document.state < DocumentState.ComputedScopes) return undefined;
    document.references.push(reference as Reference);
    return this.#resolve(reference);
  }

  #resolve(reference: FettleReference): AstNodeDescription | FettleLinkingError {
    const found = this.#lookup.find(reference);
    if (!isMissing(found)) return found;
    const { container, property } = reference;
    const info = { reference: reference as Reference, container, property };
    return { info, message: `"${reference.$refText}" refers to nothing here`, missing: found };
  }

  #unlinked(info: ReferenceInfo): LinkingError {
    return { info, message: `"${info.reference.$refText}" refers to nothing here` };
  }
}

/** Every name below a node. */
export const referencesIn = (node: AstNode): FettleReference[] =>
  nodesIn(node).flatMap((one) => (isNamedNode(one) || isResultNode(one) ? segmentsOf(one) : []));
