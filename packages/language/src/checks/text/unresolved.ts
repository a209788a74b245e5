/** A name that refers to nothing: what it could have been, and what it was probably meant to be. */
import type { CstNode, LangiumDocument } from 'langium';
import { railsCalled } from '../../resolve/build-around.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import { type FettleReference, segmentsOf } from '../../resolve/reference.ts';
import { type Role, roleOf } from '../../resolve/role.ts';
import type { Place } from '../../syntax/place.ts';
import type { ProblemFix } from '../../syntax/problem.ts';
import { nearest } from '../../units/nearest.ts';
import { didYouMean } from '../../vocabulary/phrasing.ts';
import type { Kind } from '../../vocabulary/schema.ts';
import { meant } from '../../vocabulary/synonyms.ts';
import { replace } from './problem-words.ts';

/** Choices up to this many are all named. */
const MOST_LISTED = 8;

export class Unresolved {
  readonly document: LangiumDocument;
  readonly lookup: Lookup;
  readonly reference: FettleReference;
  readonly name: string;
  readonly place: Place;
  readonly role: Role;

  constructor(document: LangiumDocument, lookup: Lookup, reference: FettleReference, node: CstNode) {
    this.document = document;
    this.lookup = lookup;
    this.reference = reference;
    this.name = reference.$refText;
    this.place = { uri: document.uri.toString(), start: node.offset, end: node.end };
    this.role = roleOf(reference.container);
  }

  /** The reference before the dot. */
  before(): FettleReference | undefined {
    const segments = segmentsOf(this.reference.container);
    return segments[segments.indexOf(this.reference) - 1];
  }

  /** `vary:` takes parts of several kinds, and figures of them. */
  isVaried(): boolean {
    return this.role.sort === 'part' && this.role.words !== undefined && this.role.kinds.length > 1;
  }

  isCall(): boolean {
    const { container } = this.reference;
    return 'call' in container && container.call;
  }

  wantedKinds(): readonly Kind[] | undefined {
    if (this.role.sort === 'part') return this.role.kinds;
    if (this.role.sort === 'feed') return ['esc', 'regulator'];
    return this.role.sort === 'option' ? ['pack'] : undefined;
  }

  hint(): string {
    const meant = this.#meant();
    if (meant.length > 0) return didYouMean(meant);
    const choices = this.#choices();
    return choices.length > 0 && choices.length <= MOST_LISTED ? `; known here: ${choices.join(', ')}` : '';
  }

  #meant(): string[] {
    // A rail without its board.
    const full = this.role.sort === 'feed' && !this.before() ? railsCalled(this.reference) : [];
    return full.length > 0 ? full.slice(0, 2) : this.#near();
  }

  /** Names that people gave are no words of the trade: they are only compared letter by letter. */
  #near(): string[] {
    const isWord =
      (this.role.sort === 'result' && !this.isCall()) ||
      this.role.sort === 'choice' ||
      this.role.sort === 'word' ||
      this.isVaried();
    return isWord ? meant(this.name, this.#candidates(), 2) : nearest(this.name, this.#candidates(), 2);
  }

  /** Few enough to list them all: rails of a board, packs of a build, words of a property. Never parts: a folder has hundreds. */
  #choices(): string[] {
    if (this.role.sort === 'part') return [...(this.role.words ?? [])];
    return this.role.sort === 'result' && !this.before() ? [] : this.#candidates();
  }

  #candidates(): string[] {
    if (this.isCall()) return ['min', 'max'];
    const names = [...this.lookup.candidates(this.reference)].map((candidate) => candidate.name);
    // Without brackets behind it no function is meant.
    const isFunction = (name: string) => this.role.sort === 'result' && (name === 'min' || name === 'max');
    return [...new Set(names)].filter((name) => name !== this.name && !isFunction(name));
  }

  replacements(): ProblemFix[] {
    return this.#meant().map((name) => replace(this.place, name));
  }
}
