/** A server with the files of one case after the other. */
import { type Diagnostic, FileChangeType, type FileEvent } from 'vscode-languageserver-protocol/node';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { MemoryServer } from '../protocol/memory-server.ts';
import { uriOf } from '../references/memory-workspace.ts';
import { type Case, PATH } from './marks.ts';

const CRAFT = ['craft.fettle', EXAMPLE_CRAFT] as const;
const CODE_ACTION = { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } }, isPreferredSupport: true };

export const pathOf = (uri: string): string => uri.slice(uriOf('').toString().length);

export class CaseServer {
  readonly #server: MemoryServer;
  #texts: ReadonlyMap<string, string>;
  #settings: object = {};

  private constructor(server: MemoryServer, texts: ReadonlyMap<string, string>) {
    this.#server = server;
    this.#texts = texts;
  }

  static async start({ client }: Case): Promise<CaseServer> {
    const texts = new Map([CRAFT, [PATH, '']]);
    const textDocument = { codeAction: CODE_ACTION, ...client.textDocument };
    const server = await MemoryServer.start(texts, new Map([[PATH, '']]), { ...client, textDocument });
    return new CaseServer(server, texts);
  }

  stop(): void {
    this.#server.stop();
  }

  /** Of a colour. */
  get colours(): readonly string[] {
    return this.#server.offered.semanticTokensProvider?.legend.tokenTypes ?? [];
  }

  get texts(): ReadonlyMap<string, string> {
    return this.#texts;
  }

  /** By path. */
  get shown(): ReadonlyMap<string, readonly Diagnostic[]> {
    return new Map([...this.#server.shown].map(([uri, found]) => [pathOf(uri), found]));
  }

  ask<R>(path: string, method: string, params: object): Promise<R> {
    return this.#server.ask(method, { textDocument: { uri: uriOf(path).toString() }, ...params });
  }

  async load({ text, files, settings }: Case): Promise<void> {
    await this.#server.closeText(PATH);
    await this.#replaceFiles(new Map([CRAFT, ...files, [PATH, text]]));
    if (JSON.stringify(settings) !== JSON.stringify(this.#settings)) await this.#server.configure(settings);
    this.#settings = settings;
    await this.#server.openText(PATH, text);
    await this.#server.settled();
  }

  async #replaceFiles(texts: ReadonlyMap<string, string>): Promise<void> {
    const before = this.#texts;
    this.#texts = texts;
    const events: FileEvent[] = [];
    for (const path of new Set([...before.keys(), ...texts.keys()])) {
      const [old, text] = [before.get(path), texts.get(path)];
      if (old === text) continue;
      if (text === undefined) this.#server.files.texts.delete(uriOf(path).path);
      else this.#server.files.texts.set(uriOf(path).path, text);
      const { Created, Changed, Deleted } = FileChangeType;
      events.push(MemoryServer.event(path, text === undefined ? Deleted : old === undefined ? Created : Changed));
    }
    await this.#server.notify(events);
  }
}
