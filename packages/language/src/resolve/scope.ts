/** Names in scope, for tools of the framework (completion above all); our own linking uses the lookup directly. */
import {
  type AstNodeDescription,
  EMPTY_STREAM,
  type LangiumDocument,
  type LocalSymbols,
  MultiMap,
  type ReferenceInfo,
  type Scope,
  type ScopeComputation,
  type ScopeProvider,
  type Stream,
  stream,
} from 'langium';
import { isMissing, type Lookup } from './lookup.ts';
import { FettleReference } from './reference.ts';

export class FettleScopeProvider implements ScopeProvider {
  readonly #lookup: Lookup;

  constructor(lookup: Lookup) {
    this.#lookup = lookup;
  }

  getScope({ reference }: ReferenceInfo): Scope {
    return reference instanceof FettleReference ? new ReferenceScope(this.#lookup, reference) : EMPTY;
  }
}

class ReferenceScope implements Scope {
  readonly #lookup: Lookup;
  readonly #reference: FettleReference;

  constructor(lookup: Lookup, reference: FettleReference) {
    this.#lookup = lookup;
    this.#reference = reference;
  }

  getElement(name: string): AstNodeDescription | undefined {
    if (name === this.#reference.$refText) {
      const found = this.#lookup.find(this.#reference);
      return isMissing(found) ? undefined : found;
    }
    return this.getAllElements().find((candidate) => candidate.name === name);
  }

  getElements(name: string): Stream<AstNodeDescription> {
    const element = this.getElement(name);
    return element ? stream([element]) : EMPTY_STREAM;
  }

  getAllElements(): Stream<AstNodeDescription> {
    return stream([...this.#lookup.candidates(this.#reference)]);
  }
}

const EMPTY: Scope = {
  getElement: () => undefined,
  getElements: () => EMPTY_STREAM,
  getAllElements: () => EMPTY_STREAM,
};

/** The index reads parts from the tree itself, and names inside a build are found from their place: nothing to compute beforehand. */
export class FettleScopeComputation implements ScopeComputation {
  async collectExportedSymbols(): Promise<AstNodeDescription[]> {
    return [];
  }

  async collectLocalSymbols(_document: LangiumDocument): Promise<LocalSymbols> {
    return new MultiMap();
  }
}
