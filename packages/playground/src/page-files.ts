/** The texts of the page: the examples, and what differs from them. */
import { byName } from './paths.ts';

export type Texts = ReadonlyMap<string, string>;

/** What a link contains: texts by name, `null` for an example that was taken out, and the file that was open. */
export interface LinkContent {
  readonly files: Readonly<Record<string, string | null>>;
  readonly open?: string;
}

export class PageFiles {
  readonly #examples: Texts;
  readonly #texts: Map<string, string>;

  constructor(examples: Texts, changes: LinkContent = { files: {} }) {
    this.#examples = examples;
    this.#texts = new Map(examples);
    for (const [path, text] of Object.entries(changes.files)) {
      if (text === null) this.#texts.delete(path);
      else this.#texts.set(path, text);
    }
  }

  get paths(): readonly string[] {
    return [...this.#texts.keys()].sort(byName);
  }

  has(path: string): boolean {
    return this.#texts.has(path);
  }

  text(path: string): string | undefined {
    return this.#texts.get(path);
  }

  set(path: string, text: string): void {
    this.#texts.set(path, text);
  }

  remove(path: string): void {
    this.#texts.delete(path);
  }

  /** The page without its examples: for somebody's own craft. */
  clear(): void {
    this.#texts.clear();
  }

  /** What a link must contain for another page to have these texts. */
  changes(open?: string): LinkContent {
    const files: Record<string, string | null> = {};
    for (const path of this.#examples.keys()) if (!this.#texts.has(path)) files[path] = null;
    for (const [path, text] of this.#texts) if (this.#examples.get(path) !== text) files[path] = text;
    return { files, ...(open !== undefined && { open }) };
  }

  /** A name that is free: `builds/mine.fettle`, `builds/mine-2.fettle`. */
  freeName(wanted: string): string {
    const [, stem = wanted, ending = ''] = /^(.*?)(\.\w+)$/.exec(wanted) ?? [];
    for (let number = 1; ; number++) {
      const path = number === 1 ? wanted : `${stem}-${number}${ending}`;
      if (!this.#texts.has(path)) return path;
    }
  }
}
