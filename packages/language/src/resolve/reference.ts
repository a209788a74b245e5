/** A name in the text and what it refers to, found when first requested. */
import type { AstNode, AstNodeDescription, CstNode, LinkingError } from 'langium';
import type { NamedNode, ResultNode } from '../grammar/generated/ast.ts';

/** The two kinds of nodes that contain names. */
export type Holder = NamedNode | ResultNode;

type Outcome = AstNodeDescription | LinkingError;

/** A `Reference` of the framework in all but the type: what may be absent there is undefined here. */
export class FettleReference {
  readonly $refNode: CstNode | undefined;
  $refText: string;
  readonly container: Holder;
  readonly property: 'head' | 'tail';
  readonly #find: (reference: FettleReference) => Outcome | undefined;
  #outcome: Outcome | undefined;
  #searching = false;

  constructor(
    container: Holder,
    property: 'head' | 'tail',
    node: CstNode | undefined,
    text: string,
    find: (reference: FettleReference) => Outcome | undefined,
  ) {
    this.container = container;
    this.property = property;
    this.$refNode = node;
    this.$refText = text;
    this.#find = find;
  }

  get ref(): AstNode | undefined {
    return this.$nodeDescription?.node;
  }

  get $nodeDescription(): AstNodeDescription | undefined {
    const outcome = this.#look();
    return outcome && 'name' in outcome ? outcome : undefined;
  }

  get error(): LinkingError | undefined {
    const outcome = this.#look();
    return outcome && 'info' in outcome ? outcome : undefined;
  }

  /** Another name for the same thing, before anything was looked up. */
  respell(name: string): void {
    this.$refText = name;
    this.forget();
  }

  forget(): void {
    this.#outcome = undefined;
  }

  #look(): Outcome | undefined {
    if (this.#outcome) return this.#outcome;
    // Declaring names never look at using ones, so this cannot happen; if it did, a hole is better than an endless search.
    if (this.#searching) return undefined;
    this.#searching = true;
    try {
      this.#outcome = this.#find(this);
    } finally {
      this.#searching = false;
    }
    return this.#outcome;
  }
}

/** Words of a dotted name, first to last. */
export function segmentsOf(holder: Holder): FettleReference[] {
  return [holder.head, ...holder.tail] as FettleReference[];
}
