/** All candidates that pass, as far as they are shown: what is kept does not grow with the number of candidates. */
import { dominates } from '../../analysis/decide/ranking.ts';
import type { JudgedLot, Passing } from './judging.ts';

/** Rows that get their ±. Nobody reads more. */
const MOST_ROWS = 40;
/** Points of a picture. */
const MOST_POINTS = 2000;

export class Field {
  readonly rejected = new Map<string, number>();
  /** How many pass. */
  passing = 0;
  /** How many are best: the front of several preferences, by one all that pass. */
  best = 0;
  #kept: Passing[] = [];
  #cloud: (readonly number[])[] = [];
  /** Every which one of those that pass is a point. */
  #stride = 1;
  readonly #preferences: number;

  constructor(preferences: number) {
    this.#preferences = preferences;
  }

  /** In the order of the candidates. */
  add({ rejected, passing }: JudgedLot): void {
    for (const [reason, count] of rejected) this.rejected.set(reason, (this.rejected.get(reason) ?? 0) + count);
    for (const one of passing) {
      this.#addPoint(one.scores);
      this.passing++;
      if (this.#preferences > 1) this.#addToFront(one);
      else this.#addInOrder(one);
    }
    this.best = this.#preferences > 1 ? this.#kept.length : this.passing;
  }

  /** The best by the first preference first, of equals the first one; of a longer front some from end to end, of a longer list the first. */
  rows(most = MOST_ROWS): Passing[] {
    const ordered = this.#kept.toSorted((a, b) => scoreOf(b) - scoreOf(a) || a.index - b.index);
    if (this.#preferences === 1 || ordered.length <= most) return ordered.slice(0, most);
    const stride = (ordered.length - 1) / (most - 1);
    return Array.from({ length: most }, (_, i) => ordered[Math.round(i * stride)]).filter((one) => one !== undefined);
  }

  cloud(): readonly (readonly number[])[] {
    return this.#cloud;
  }

  #addToFront(one: Passing): void {
    if (this.#kept.some(({ scores }) => dominates(scores, one.scores))) return;
    this.#kept = this.#kept.filter(({ scores }) => !dominates(one.scores, scores));
    this.#kept.push(one);
  }

  #addInOrder(one: Passing): void {
    const score = scoreOf(one);
    const last = this.#kept.at(-1);
    if (this.#kept.length >= MOST_ROWS && last && score <= scoreOf(last)) return;
    const place = this.#kept.findIndex((other) => scoreOf(other) < score);
    this.#kept.splice(place < 0 ? this.#kept.length : place, 0, one);
    if (this.#kept.length > MOST_ROWS) this.#kept.pop();
  }

  #addPoint(scores: readonly number[]): void {
    if (this.passing % this.#stride !== 0) return;
    this.#cloud.push(scores);
    if (this.#cloud.length < MOST_POINTS) return;
    this.#cloud = this.#cloud.filter((_, i) => i % 2 === 0);
    this.#stride *= 2;
  }
}

const scoreOf = ({ scores: [first = 0] }: Passing): number => first;
