/** What passes between a sheet and the view that draws it. The view shows texts that others wrote: whatever comes from it is looked at first. */

/** A build: the subject of a sheet. Kept by the view over a reload of the window. */
export interface Subject {
  readonly uri: string;
  readonly build: string;
}

export interface ShowMessage {
  readonly type: 'show';
  readonly subject: Subject;
  readonly sections: readonly { readonly id: string; readonly html: string }[];
  /** Why these are not the figures of what is in the file now. */
  readonly note?: string;
}

export type FromView =
  | { readonly type: 'ready' }
  /** Somebody chose what leads somewhere. */
  | { readonly type: 'go'; readonly section: string; readonly target: number };

export function fromView(message: unknown): FromView | undefined {
  const { type, section, target } = fieldsOf(message);
  if (type === 'ready') return { type };
  const isGo = type === 'go' && typeof section === 'string' && Number.isInteger(target);
  return isGo ? { type, section, target: target as number } : undefined;
}

export function toView(message: unknown): ShowMessage | undefined {
  const { type, sections, note, subject } = fieldsOf(message);
  const isShow =
    type === 'show' && Array.isArray(sections) && sections.every(isSection) && asSubject(subject) !== undefined;
  return isShow && (note === undefined || typeof note === 'string') ? (message as ShowMessage) : undefined;
}

export function asSubject(value: unknown): Subject | undefined {
  const { uri, build } = fieldsOf(value);
  return typeof uri === 'string' && typeof build === 'string' ? { uri, build } : undefined;
}

function isSection(value: unknown): boolean {
  const { id, html } = fieldsOf(value);
  return typeof id === 'string' && typeof html === 'string';
}

/** Of any value, also of none. */
export function fieldsOf(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
}
