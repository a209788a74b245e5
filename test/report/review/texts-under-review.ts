/** Two versions of a craft as texts in memory, and the review of what lies between them, in every format. */

import { URI } from 'langium';
import pc from 'picocolors';
import { isFailing, type ReviewFailure } from '../../../packages/language/src/report/review/gravity.ts';
import { review } from '../../../packages/language/src/report/review/review.ts';
import type { Review } from '../../../packages/language/src/report/review/review-data.ts';
import { reviewJson } from '../../../packages/language/src/report/review/review-json.ts';
import { reviewMarkdown } from '../../../packages/language/src/report/review/review-markdown.ts';
import { reviewText } from '../../../packages/language/src/report/review/review-text.ts';

export type Texts = Readonly<Record<string, string>>;

/** Edits of a text since the last `commit()`, which is what they are compared with. */
export class Change {
  #before: Texts;
  #after: Texts;
  /** Of these two versions and paths: one review serves all formats. */
  #made: { readonly of: readonly [Texts, Texts, string]; readonly review: Promise<Review> } | undefined;

  readonly #paths: readonly string[];

  /** @param paths builds below these are requested, where a call names no others */
  constructor(files: Texts, paths: readonly string[] = ['.']) {
    this.#before = files;
    this.#after = files;
    this.#paths = paths;
  }

  get files(): Texts {
    return this.#after;
  }

  /** Everywhere. */
  rename(from: string, to: string): this {
    const renamed = Object.entries(this.#after).map(([path, text]) => [path, text.replaceAll(from, to)]);
    return this.write(Object.fromEntries(renamed));
  }

  write(files: Texts): this {
    this.#after = { ...this.#after, ...files };
    return this;
  }

  /** Replaces a piece of a file that must be there. */
  edit(path: string, from: string, to: string): this {
    const text = this.read(path);
    if (!text.includes(from)) throw new Error(`${path} does not contain ${from}`);
    return this.write({ [path]: text.replace(from, to) });
  }

  read(path: string): string {
    const text = this.#after[path];
    if (text === undefined) throw new Error(`there is no ${path}`);
    return text;
  }

  move(from: string, to: string): this {
    return this.write({ [to]: this.read(from) }).delete(from);
  }

  delete(path: string): this {
    const { [path]: gone, ...rest } = this.#after;
    if (gone === undefined) throw new Error(`there is no ${path}`);
    this.#after = rest;
    return this;
  }

  commit(): this {
    this.#before = this.#after;
    return this;
  }

  /** The way back: what was new is what there was. */
  turn(): this {
    [this.#before, this.#after] = [this.#after, this.#before];
    return this;
  }

  #reviewed(paths: readonly string[] = this.#paths): Promise<Review> {
    const of = [this.#before, this.#after, paths.join('\n')] as const;
    if (!this.#made || of.some((one, i) => one !== this.#made?.of[i]))
      this.#made = { of, review: reviewOf(this.#before, this.#after, paths) };
    return this.#made.review;
  }

  // biome-ignore lint/suspicious/noExplicitAny: what the JSON states is what is tested.
  async json(paths?: readonly string[]): Promise<any> {
    return JSON.parse(reviewJson(await this.#reviewed(paths)));
  }

  async text(paths?: readonly string[]): Promise<string> {
    return reviewText(await this.#reviewed(paths), pc.createColors(false));
  }

  async markdown(paths?: readonly string[]): Promise<string> {
    return reviewMarkdown(await this.#reviewed(paths));
  }

  /** Whether a run with these words of `--fail-on` fails. */
  async fails(...on: readonly ReviewFailure[]): Promise<boolean> {
    const found = await this.#reviewed();
    if (found.failures.length > 0) throw new Error(`not judged: ${JSON.stringify(found.failures)}`);
    return on.some((one) => isFailing(found, one));
  }
}

const ROOT = URI.parse('file:///texts');

function reviewOf(before: Texts, after: Texts, paths: readonly string[]): Promise<Review> {
  return review({
    root: ROOT,
    base: { name: 'main', tree: treeOf(before) },
    head: { name: 'working tree', tree: treeOf(after) },
    isAsked: (path) => paths.some((one) => one === '.' || path === one || path.startsWith(`${one}/`)),
  });
}

const encoder = new TextEncoder();

const treeOf = (texts: Texts) => ({
  files: new Map(Object.entries(texts).map(([path, text]) => [path, encoder.encode(text)])),
  unread: new Map<string, string>(),
  submodules: [],
});
