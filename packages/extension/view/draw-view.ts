/** Draws a build sheet, or the candidates of a shortlist, inside its view: puts in what changed, keeps place, focus and what is folded open, and reports what is chosen. */
import { type BusyMessage, type FromView, fieldsOf, type ShowMessage, toView } from '../src/sheet/view-messages.ts';
import { patchOf } from './patch.ts';
import { moveFocus, takeOneStopATable } from './table-keys.ts';

declare function acquireVsCodeApi(): {
  postMessage(message: FromView): void;
  getState(): unknown;
  setState(state: object): void;
};

const host = acquireVsCodeApi();
const sheet = elementById('sheet');
const note = elementById('note');
const busy = elementById('busy');
const reported = elementById('told');
const shown = new Map<string, string>();
let edition = 0;
/** How far it was scrolled before the view was taken down; used once. */
let scrolled = Number(fieldsOf(host.getState()).scrolled) || 0;

/** What arrives while a button is pressed waits: whoever chooses something must find it under the pointer still. */
let waiting: ShowMessage | undefined;
let isHeld = false;

addEventListener('message', ({ data }) => {
  const message = toView(data);
  if (message === undefined) return;
  if (message.type === 'busy') showBusy(message);
  else if (isHeld) waiting = message;
  else show(message);
});
addEventListener('pointerdown', () => {
  isHeld = true;
});
for (const end of ['pointerup', 'pointercancel', 'blur']) addEventListener(end, () => setTimeout(release));
addEventListener('scroll', () => keep({ scrolled: scrollY }), { passive: true });
busy.querySelector('button')?.addEventListener('click', () => {
  host.postMessage({ type: busy.classList.contains('stopped') ? 'again' : 'stop' });
});
sheet.addEventListener('click', choose);
sheet.addEventListener('keydown', moveFocus);
host.postMessage({ type: 'ready' });

function show({ subject, edition: newest, sections, note: words }: ShowMessage): void {
  keep({ subject });
  edition = newest;
  note.hidden = words === undefined;
  note.textContent = words ?? '';
  sheet.classList.toggle('before', words !== undefined);

  const { gone, filled, order } = patchOf(shown, sections);
  if (shown.size === 0) sheet.replaceChildren();
  // Whoever reads the beginning goes on reading the beginning.
  const anchor = scrollY === 0 ? undefined : firstInSight();
  const before = anchor?.getBoundingClientRect().top ?? 0;
  for (const id of gone) {
    sectionOf(id).remove();
    shown.delete(id);
  }
  for (const { id, html } of filled) {
    fill(sectionOf(id), html);
    shown.set(id, html);
  }
  order.forEach((id, i) => {
    const element = sectionOf(id);
    if (sheet.children[i] !== element) sheet.insertBefore(element, sheet.children[i] ?? null);
  });
  if (anchor?.isConnected) scrollBy(0, anchor.getBoundingClientRect().top - before);
  if (scrolled > 0) scrollTo(0, scrolled);
  scrolled = 0;
  if (filled.length > 0 || words !== undefined) send(words);
}

const firstInSight = (): Element | undefined =>
  [...sheet.children].find((element) => element.getBoundingClientRect().bottom > 0);

function showBusy({ words, isStopped = false }: BusyMessage): void {
  busy.hidden = words === undefined;
  busy.classList.toggle('stopped', isStopped);
  sheet.ariaBusy = String(words !== undefined && !isStopped);
  const [state, button] = [busy.querySelector('span'), busy.querySelector('button')];
  if (state) state.textContent = words ?? '';
  if (button) button.textContent = isStopped ? 'Judge them' : 'Stop';
}

function release(): void {
  isHeld = false;
  if (waiting !== undefined) show(waiting);
  waiting = undefined;
}

/** For those who hear the page. */
function send(words: string | undefined): void {
  const verdict = sheet.querySelector('.verdict')?.textContent ?? '';
  reported.textContent = `Page updated. ${verdict}. ${words ?? ''}`;
}

/** The one of that name, or a new one behind all others. */
function sectionOf(id: string): HTMLElement {
  const found = [...sheet.children].find((element) => (element as HTMLElement).dataset.section === id);
  if (found) return found as HTMLElement;
  const fresh = document.createElement('div');
  fresh.dataset.section = id;
  return sheet.appendChild(fresh);
}

function fill(section: HTMLElement, html: string): void {
  const open = [...section.querySelectorAll('details')].map((details) => details.open);
  const focused = section.contains(document.activeElement)
    ? stopsOf(section).indexOf(document.activeElement as HTMLElement)
    : -1;
  section.innerHTML = html;
  section.querySelectorAll('details').forEach((details, i) => {
    details.open = open[i] ?? false;
  });
  takeOneStopATable(section);
  stopsOf(section)[focused]?.focus({ preventScroll: true });
}

const stopsOf = (section: HTMLElement): HTMLElement[] => [...section.querySelectorAll<HTMLElement>('button, summary')];

function choose(event: MouseEvent): void {
  const { target } = event;
  // Words that were marked to be copied are no choice.
  if (!(target instanceof Element) || getSelection()?.isCollapsed === false) return;
  const inPage = target.closest('a[href^="#"]')?.getAttribute('href');
  if (inPage) {
    event.preventDefault();
    const to = document.getElementById(inPage.slice(1));
    to?.scrollIntoView({ block: 'center' });
    to?.focus({ preventScroll: true });
    return;
  }
  // A whole row, or a finding, leads where its name does.
  const row = target.closest('tr, li');
  const way = target.closest('[data-go]') ?? row?.querySelector('th [data-go], .quiet [data-go]');
  const section = way?.closest<HTMLElement>('[data-section]')?.dataset.section;
  const number = Number(way?.getAttribute('data-go') ?? Number.NaN);
  if (section !== undefined && Number.isInteger(number))
    host.postMessage({ type: 'go', edition, section, target: number });
}

/** Over a reload of the window. */
function keep(state: object): void {
  host.setState({ ...fieldsOf(host.getState()), ...state });
}

function elementById(id: string): HTMLElement {
  const element = document.getElementById(id);
  if (element === null) throw new Error(`the page has no ${id}`);
  return element;
}
