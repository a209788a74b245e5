/** What a view next to a text shows while the text changes: the same in every host. */
import type { SheetSection, SheetTarget } from '../../../language/src/editor/requests/protocol.ts';
import { reasonOf } from '../error-reason.ts';
import { renamedTo } from './moved-subject.ts';
import { type BusyMessage, type Followed, fromView, type ShowMessage } from './view-messages.ts';

/** Without a key for so long, what was typed is drawn; and then, after a longer rest, what takes a search. */
const PAUSE_MS = 120;
const REST_MS = 700;
/** So many pages at most are on their way to a view, or wait there because a button is pressed. */
const KEPT_EDITIONS = 8;
/** The sections that always report the file as it is now, also while the figures are those from before. */
const ALWAYS_FRESH: ReadonlySet<string> = new Set(['head', 'findings']);

/** What is shown of a subject: nothing where its file has none of that name. */
export interface Shown {
  readonly page?: { readonly title: string; readonly isComplete: boolean; readonly sections: readonly SheetSection[] };
  /** All of that sort in the file: shows what one was renamed to. */
  readonly names: readonly string[];
}

/** A request while it runs. */
export interface Running {
  /** Its answer is no longer wanted. */
  readonly signal: AbortSignal;
  /** How far it is. */
  report(words: string): void;
  /** Part of the answer. */
  partly(sections: readonly SheetSection[]): void;
}

export interface SheetHost<About extends Followed> {
  /** @param quick without what has to be searched for */
  request(subject: About, quick: boolean, running: Running): Promise<Shown>;
  nameOf(subject: About): string;
  renamed(subject: About, name: string): About;
  /** Build, shortlist. */
  readonly kind: string;
  /** A quick answer comes first. */
  readonly isQuickFirst: boolean;
  /** A request goes on while files change: the server ends it where it rests on one of them. */
  readonly outlivesChanges: boolean;
  /** The request was dropped because something was typed meanwhile. */
  isOvertaken(error: unknown): boolean;
  /** A hidden sheet is drawn when it comes back. */
  isVisible(): boolean;
  show(message: ShowMessage | BusyMessage): void;
  showTitle(title: string): void;
  go(target: SheetTarget, subject: About): void;
}

/** The page of one subject, requested again whenever its text may have changed. */
export class SheetFollower<About extends Followed> {
  readonly #host: SheetHost<About>;
  #current: About;
  #sections: readonly SheetSection[] = [];
  /** What was sent to the view, by edition: it may show an earlier one while somebody chooses there. */
  readonly #sent = new Map<number, readonly SheetSection[]>();
  #edition = 0;
  /** What the file had when the page was drawn last. */
  #names: readonly string[] = [];
  #note: string | undefined;
  #latest = 0;
  #running: AbortController | undefined;
  #isBusy = false;
  /** Something changed while a request went on. */
  #isDirty = false;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(subject: About, host: SheetHost<About>) {
    this.#host = host;
    this.#current = subject;
  }

  get subject(): About {
    return this.#current;
  }

  /** The file was checked anew, is gone, or has moved. */
  changed(subject: About = this.#current): void {
    if (subject === this.#current && this.#running && this.#host.outlivesChanges) {
      this.#isDirty = true;
      return;
    }
    this.#current = subject;
    this.#drop();
    if (this.#host.isVisible()) this.#after(PAUSE_MS, () => this.#refresh(this.#host.isQuickFirst));
  }

  /** Another one: nothing of the one before is kept. */
  follow(subject: About): void {
    this.#sections = [];
    this.#sent.clear();
    this.#names = [];
    this.changed(subject);
  }

  /** Nothing is requested or shown any more. */
  forget(): void {
    clearTimeout(this.#timer);
    this.#isBusy = false;
    this.#drop();
    // Equal to nothing: an answer that still arrives is dropped.
    this.#latest = Number.NaN;
  }

  /** @param message from the view, which shows texts that others wrote */
  receive(message: unknown): void {
    const received = fromView(message);
    if (received?.type === 'ready') {
      if (this.#sections.length > 0) this.#show(this.#note);
      this.#after(0, () => this.#refresh(this.#host.isQuickFirst));
    } else if (received?.type === 'stop') {
      clearTimeout(this.#timer);
      this.#drop();
      this.#busy({ words: 'Stopped.', isStopped: true });
    } else if (received?.type === 'again') {
      this.#after(0, () => this.#refresh(false));
    } else if (received?.type === 'go') {
      const section = this.#sent.get(received.edition)?.find(({ id }) => id === received.section);
      const target = section?.targets?.[received.target];
      if (target !== undefined) this.#host.go(target, this.#current);
    }
  }

  #after(milliseconds: number, act: () => Promise<void>): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void act(), milliseconds);
  }

  /** The answer to what was requested last is no longer wanted. */
  #drop(): void {
    this.#latest++;
    this.#running?.abort();
    this.#running = undefined;
    this.#isDirty = false;
    this.#busy({});
  }

  /** What was requested last has its answer. */
  #done(): void {
    this.#running = undefined;
    this.#busy({});
    if (this.#isDirty) this.changed();
  }

  /** @param quick what has to be searched for comes after a rest. */
  async #refresh(quick: boolean): Promise<void> {
    this.#drop();
    const request = this.#latest;
    this.#running = new AbortController();
    const isLatest = () => request === this.#latest;
    const running: Running = {
      signal: this.#running.signal,
      report: (words) => isLatest() && this.#busy({ words }),
      partly: (sections) => isLatest() && this.#sections.length === 0 && this.#draw(sections),
    };
    try {
      const answer = await this.#host.request(this.#current, quick, running);
      if (!isLatest()) return;
      this.#take(answer);
      if (quick) this.#after(REST_MS, () => this.#refresh(false));
      this.#done();
    } catch (error) {
      if (!isLatest()) return;
      if (this.#host.isOvertaken(error)) this.#after(REST_MS, () => this.#refresh(quick));
      else this.#stay(`This page cannot be updated: ${reasonOf(error)}.`);
      this.#done();
    }
  }

  /** Nothing is sent that changes nothing. */
  #busy(state: Omit<BusyMessage, 'type'>): void {
    const isBusy = state.words !== undefined;
    if (isBusy || this.#isBusy) this.#host.show({ type: 'busy', ...state });
    this.#isBusy = isBusy;
  }

  #take({ page, names }: Shown): void {
    const name = this.#host.nameOf(this.#current);
    if (page === undefined) {
      const now = renamedTo(name, this.#names, names);
      if (now === undefined) this.#stay(`${fileName(this.#current.uri)} has no ${this.#host.kind} ${name} now.`);
      else this.changed(this.#host.renamed(this.#current, now));
      return;
    }
    this.#names = names;
    this.#host.showTitle(page.title);
    const hasFigures = this.#sections.some(({ id }) => !ALWAYS_FRESH.has(id));
    if (page.isComplete || !hasFigures) {
      this.#sections = page.sections;
      this.#show();
    } else {
      const fresh = page.sections.filter(({ id }) => ALWAYS_FRESH.has(id));
      this.#sections = [...fresh, ...this.#sections.filter(({ id }) => !ALWAYS_FRESH.has(id))];
      this.#show('A line cannot be read yet. The figures are those of the last complete text.');
    }
  }

  #stay(why: string): void {
    this.#show(this.#sections.length > 0 ? `${why} The figures are those of the last complete text.` : why);
  }

  #show(note?: string): void {
    this.#note = note;
    this.#draw(this.#sections, note);
  }

  #draw(sections: readonly SheetSection[], note?: string): void {
    const edition = ++this.#edition;
    this.#sent.set(edition, sections);
    this.#sent.delete(edition - KEPT_EDITIONS);
    this.#host.show({
      type: 'show',
      subject: this.#current,
      edition,
      sections: sections.map(({ id, html }) => ({ id, html })),
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
