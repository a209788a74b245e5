/** What a view next to a text shows while the text changes: the same in every host. */
import type { SheetAnswer, SheetSection, SheetTarget } from '../../../language/src/editor/requests/protocol.ts';
import { reasonOf } from '../reason.ts';
import { renamedTo } from './follow.ts';
import { fromView, type ShowMessage, type Subject } from './messages.ts';

/** Without a key for so long, what was typed is drawn; and then, after a longer rest, what takes a search. */
const PAUSE_MS = 120;
const REST_MS = 700;
/** The sections that always report the file as it is now, also while the figures are those from before. */
const ALWAYS_FRESH: ReadonlySet<string> = new Set(['head', 'findings']);

export interface SheetHost {
  /** `fettle/sheet`. */
  request(subject: Subject, quick: boolean): Promise<SheetAnswer>;
  /** The request was dropped because something was typed meanwhile. */
  isOvertaken(error: unknown): boolean;
  /** A hidden sheet is drawn when it comes back. */
  isVisible(): boolean;
  show(message: ShowMessage): void;
  showTitle(title: string): void;
  go(target: SheetTarget, subject: Subject): void;
}

/** The sheet of one build, requested again whenever its text may have changed. */
export class SheetFollower {
  readonly #host: SheetHost;
  #current: Subject;
  #sections: readonly SheetSection[] = [];
  /** The file's builds when the sheet was drawn last. */
  #builds: readonly string[] = [];
  #note: string | undefined;
  #latest = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(subject: Subject, host: SheetHost) {
    this.#host = host;
    this.#current = subject;
  }

  get subject(): Subject {
    return this.#current;
  }

  /** The file was checked anew, is gone, or has moved. */
  changed(subject: Subject = this.#current): void {
    this.#current = subject;
    this.#latest++;
    if (this.#host.isVisible()) this.#after(PAUSE_MS, () => this.#refresh(true));
  }

  /** Another build: nothing of the one before is kept. */
  follow(subject: Subject): void {
    this.#sections = [];
    this.#builds = [];
    this.changed(subject);
  }

  /** Nothing is requested or shown any more. */
  forget(): void {
    clearTimeout(this.#timer);
    // Equal to nothing: an answer that still arrives is dropped.
    this.#latest = Number.NaN;
  }

  /** @param message from the view, which shows texts that others wrote */
  receive(message: unknown): void {
    const received = fromView(message);
    if (received?.type === 'ready') {
      if (this.#sections.length > 0) this.#show(this.#note);
      this.#after(0, () => this.#refresh(true));
    } else if (received?.type === 'go') {
      const { targets } = this.#sections.find(({ id }) => id === received.section) ?? {};
      const target = targets?.[received.target];
      if (target !== undefined) this.#host.go(target, this.#current);
    }
  }

  #after(milliseconds: number, act: () => Promise<void>): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void act(), milliseconds);
  }

  /** @param quick what has to be searched for comes after a rest. */
  async #refresh(quick: boolean): Promise<void> {
    const request = ++this.#latest;
    try {
      const answer = await this.#host.request(this.#current, quick);
      if (request !== this.#latest) return;
      this.#take(answer);
      if (quick) this.#after(REST_MS, () => this.#refresh(false));
    } catch (error) {
      if (request !== this.#latest) return;
      if (this.#host.isOvertaken(error)) this.#after(REST_MS, () => this.#refresh(quick));
      else this.#stay(`The sheet cannot be updated: ${reasonOf(error)}.`);
    }
  }

  #take({ sheet, builds }: SheetAnswer): void {
    const { build } = this.#current;
    if (sheet === undefined) {
      const name = renamedTo(build, this.#builds, builds);
      if (name === undefined) this.#stay(`${fileName(this.#current.uri)} has no build ${build} now.`);
      else this.changed({ ...this.#current, build: name });
      return;
    }
    this.#builds = builds;
    this.#host.showTitle(sheet.title ?? sheet.build);
    const hasFigures = this.#sections.some(({ id }) => !ALWAYS_FRESH.has(id));
    if (sheet.isComplete || !hasFigures) {
      this.#sections = sheet.sections;
      this.#show();
    } else {
      const fresh = sheet.sections.filter(({ id }) => ALWAYS_FRESH.has(id));
      this.#sections = [...fresh, ...this.#sections.filter(({ id }) => !ALWAYS_FRESH.has(id))];
      this.#show('A line cannot be read yet. The figures are those of the last complete text.');
    }
  }

  #stay(why: string): void {
    this.#show(this.#sections.length > 0 ? `${why} The figures are those of the last complete text.` : why);
  }

  #show(note?: string): void {
    this.#note = note;
    this.#host.show({
      type: 'show',
      subject: this.#current,
      sections: this.#sections.map(({ id, html }) => ({ id, html })),
      ...(note !== undefined && { note }),
    });
  }
}

/** The last part of a URI, readable. */
export function fileName(uri: string): string {
  const last = uri.split('/').at(-1) ?? uri;
  try {
    return decodeURIComponent(last);
  } catch {
    return last;
  }
}
