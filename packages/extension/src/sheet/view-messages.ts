/** What passes between a sheet, or the candidates of a shortlist, and the view that draws it. The view shows texts that others wrote: whatever comes from it is looked at first. */

/** What a view is about. Kept by the view over a reload of the window. */
export interface Followed {
  readonly uri: string;
}

/** A build: the subject of a sheet. */
export interface SheetSubject extends Followed {
  readonly build: string;
}

export interface ShortlistSubject extends Followed {
  readonly shortlist: string;
}

export interface ShowMessage {
  readonly type: 'show';
  readonly subject: Followed;
  /** Goes up with each message: what is chosen on a page is looked up in the page it was chosen on. */
  readonly edition: number;
  readonly sections: readonly { readonly id: string; readonly html: string }[];
  /** Why these are not the figures of what is in the file now. */
  readonly note?: string;
}

/** Something is computed that takes a while, or was until somebody stopped it; no words when it is done. */
export interface BusyMessage {
  readonly type: 'busy';
  readonly words?: string;
  readonly isStopped?: boolean;
}

export type FromView =
  | { readonly type: 'ready' }
  | { readonly type: 'stop' }
  /** What was stopped is to be computed. */
  | { readonly type: 'again' }
  /** Somebody chose what leads somewhere. */
  | { readonly type: 'go'; readonly edition: number; readonly section: string; readonly target: number };

export function fromView(message: unknown): FromView | undefined {
  const { type, edition, section, target } = fieldsOf(message);
  if (type === 'ready' || type === 'stop' || type === 'again') return { type };
  const isGo = type === 'go' && typeof section === 'string' && isInteger(target) && isInteger(edition);
  return isGo ? { type, edition, section, target } : undefined;
}

export function toView(message: unknown): ShowMessage | BusyMessage | undefined {
  const { type, edition, sections, note, subject, words } = fieldsOf(message);
  if (type === 'busy') return words === undefined || typeof words === 'string' ? (message as BusyMessage) : undefined;
  const isAbout = typeof fieldsOf(subject).uri === 'string';
  const hasSections = Array.isArray(sections) && sections.every(isSection);
  const isShow = type === 'show' && isInteger(edition) && hasSections && isAbout;
  return isShow && (note === undefined || typeof note === 'string') ? (message as ShowMessage) : undefined;
}

export function asSubject(value: unknown): SheetSubject | undefined {
  const { uri, build } = fieldsOf(value);
  return typeof uri === 'string' && typeof build === 'string' ? { uri, build } : undefined;
}

export function asShortlist(value: unknown): ShortlistSubject | undefined {
  const { uri, shortlist } = fieldsOf(value);
  return typeof uri === 'string' && typeof shortlist === 'string' ? { uri, shortlist } : undefined;
}

const isInteger = (value: unknown): value is number => Number.isInteger(value);

function isSection(value: unknown): boolean {
  const { id, html } = fieldsOf(value);
  return typeof id === 'string' && typeof html === 'string';
}

/** Of any value, also of none. */
export function fieldsOf(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
}
