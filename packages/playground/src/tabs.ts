/** A tab for each open file, with how many errors it has. */
import { element } from './element.ts';
import type { Findings } from './page-findings.ts';
import { pagePath } from './paths.ts';
import type { PageWorkspace } from './workspace.ts';

interface Places {
  readonly bar: HTMLElement;
  readonly workspace: PageWorkspace;
  readonly findings: Findings;
  readonly show: (path: string) => void;
  readonly close: (path: string) => void;
}

export class Tabs {
  readonly #places: Places;

  constructor(places: Places) {
    this.#places = places;
  }

  draw(): void {
    const { bar, workspace } = this.#places;
    const focused = bar.contains(document.activeElement);
    bar.replaceChildren(...workspace.files.map(({ uri }) => this.#tab(uri)));
    if (focused) this.#focusShown();
  }

  #tab(uri: string): HTMLElement {
    const { workspace, findings, show, close } = this.#places;
    const { files, shown } = workspace;
    const path = pagePath(uri) ?? uri;
    const isShown = uri === shown?.uri;
    const errors = findings.of(uri).filter(({ severity }) => severity === 1).length;
    const tab = element(
      'button',
      {
        type: 'button',
        class: 'tab',
        role: 'tab',
        'aria-selected': String(isShown),
        tabindex: isShown ? '0' : '-1',
        title: path,
      },
      path.split('/').at(-1) ?? path,
    );
    if (errors > 0) tab.append(element('span', { class: 'count', title: 'errors' }, String(errors)));
    tab.addEventListener('click', () => show(path));
    tab.addEventListener('keydown', ({ key }) => this.#move(key, uri));
    if (!isShown || files.length === 1) return tab;
    const cross = element(
      'button',
      { type: 'button', class: 'close', 'aria-label': `Close ${path}`, tabindex: '-1' },
      '×',
    );
    cross.addEventListener('click', () => close(path));
    return element('span', { class: 'shown', role: 'presentation' }, tab, cross);
  }

  #move(key: string, uri: string): void {
    const { workspace, show, close } = this.#places;
    const { files } = workspace;
    const index = files.findIndex((file) => file.uri === uri);
    const step = key === 'ArrowRight' ? 1 : key === 'ArrowLeft' ? -1 : 0;
    const next = step === 0 ? undefined : files[(index + step + files.length) % files.length];
    const path = key === 'Delete' ? undefined : next && pagePath(next.uri);
    if (key === 'Delete') close(pagePath(uri) ?? '');
    else if (path === undefined) return;
    else show(path);
    this.#focusShown();
  }

  #focusShown(): void {
    this.#places.bar.querySelector<HTMLElement>('[aria-selected="true"]')?.focus();
  }
}
