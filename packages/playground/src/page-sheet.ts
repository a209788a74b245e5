/** The build sheet next to the text: that of the build at the cursor, or the one chosen above it. */
import type { LSPClient } from '@codemirror/lsp-client';
import { SheetFollower } from '../../extension/src/sheet/follower.ts';
import { buildAt } from '../../extension/src/sheet/moved-subject.ts';
import type { SheetSubject } from '../../extension/src/sheet/view-messages.ts';
import type { BuildSummary, SheetAnswer, SheetTarget } from '../../language/src/editor/requests/protocol.ts';
import { element } from './element.ts';

/** Codes of the protocol: a request that was dropped because something was typed meanwhile. */
const OVERTAKEN: readonly unknown[] = [-32800, -32802, -32801];

interface Places {
  readonly client: LSPClient;
  readonly frame: HTMLIFrameElement;
  readonly choice: HTMLSelectElement;
  readonly goTo: (uri: string, line: number, character: number) => void;
  readonly explain: (subject: SheetSubject & { pack: string; result: string }) => void;
}

export class Sheet {
  readonly #places: Places;
  #follower: SheetFollower<SheetSubject> | undefined;
  #builds: readonly BuildSummary[] = [];
  #uri = '';
  #latest = 0;

  constructor(places: Places) {
    this.#places = places;
    addEventListener('message', ({ source, data, origin }) => {
      if (source === places.frame.contentWindow && origin === location.origin) this.#follower?.receive(data);
    });
    places.choice.addEventListener('change', () => {
      const chosen = this.#builds[Number(places.choice.value)];
      if (chosen !== undefined) this.#follow(chosen);
    });
  }

  /** Another file is on screen, or builds may have come or gone. @param line of the cursor */
  async showFile(uri: string, line: number): Promise<void> {
    const request = ++this.#latest;
    const { builds } = await this.#places.client.request<object, { builds: BuildSummary[] }>('fettle/builds', {});
    // Another file has come on screen meanwhile.
    if (request !== this.#latest) return;
    this.#builds = builds;
    const inFile = builds.filter((build) => build.uri === uri);
    const current = this.#follower?.subject;
    const stays =
      uri === this.#uri && builds.some((build) => build.uri === current?.uri && build.name === current.build);
    this.#uri = uri;
    const meant = stays ? undefined : (buildAt(line, inFile) ?? inFile[0] ?? (this.#follower ? undefined : builds[0]));
    if (meant !== undefined) this.#follow(meant);
    this.#drawChoice();
  }

  checked(uris: readonly string[]): void {
    const subject = this.#follower?.subject;
    if (subject !== undefined && uris.includes(subject.uri)) this.#follower?.changed();
  }

  #follow({ uri, name }: BuildSummary): void {
    const subject = { uri, build: name };
    if (this.#follower === undefined) {
      this.#follower = this.#followerOf(subject);
      this.#follower.changed();
    } else {
      this.#follower.follow(subject);
    }
    this.#drawChoice();
  }

  #followerOf(subject: SheetSubject): SheetFollower<SheetSubject> {
    const { client, frame } = this.#places;
    return new SheetFollower(subject, {
      kind: 'build',
      isQuickFirst: true,
      outlivesChanges: false,
      nameOf: ({ build }) => build,
      renamed: (of, build) => ({ ...of, build }),
      request: async (of, quick) => {
        const { sheet, builds } = await client.request<object, SheetAnswer>('fettle/sheet', { ...of, quick });
        return { names: builds, ...(sheet && { page: { ...sheet, title: sheet.title ?? sheet.build } }) };
      },
      isOvertaken: (error) => OVERTAKEN.includes((error as { code?: unknown } | null)?.code),
      isVisible: () => true,
      show: (message) => frame.contentWindow?.postMessage(message, location.origin),
      showTitle: (title) => {
        frame.title = `Build sheet: ${title}`;
      },
      go: (target, of) => this.#go(target, of),
    });
  }

  #go(target: SheetTarget, subject: SheetSubject): void {
    if ('result' in target) {
      this.#places.explain({ ...subject, ...target });
      return;
    }
    // Rows are of shortlists.
    if ('row' in target) return;
    const { line, character } = target.range.start;
    this.#places.goTo(target.uri, line, character);
  }

  #drawChoice(): void {
    const { choice } = this.#places;
    const subject = this.#follower?.subject;
    const options = this.#builds.map((build, index) => {
      const option = element(
        'option',
        { value: String(index) },
        build.title ? `${build.name} – ${build.title}` : build.name,
      );
      option.selected = build.uri === subject?.uri && build.name === subject.build;
      return option;
    });
    choice.replaceChildren(...options);
  }
}
