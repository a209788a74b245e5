/** Cases that are files: a text with marks where something is found, offered, explained or done. One folder a feature; see `marks.ts`. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type {
  CodeAction,
  CompletionItem,
  CompletionList,
  Diagnostic,
  Hover,
  MarkupContent,
  Range,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { MemoryServer } from '../protocol/memory-server.ts';
import { uriOf } from '../references/workspace.ts';
import { type Case, type Mark, readCase } from './marks.ts';

const PATH = 'case.fettle';
const SEVERITIES = ['error', 'warning', 'information', 'hint'];

const at = ({ start, end }: Range): string =>
  `${start.line + 1}:${start.character + 1}-${end.line === start.line ? '' : `${end.line + 1}:`}${end.character + 1}`;

class Marked {
  readonly #server: MemoryServer;
  readonly #case: Case;
  readonly #document = { uri: uriOf(PATH).toString() };

  private constructor(server: MemoryServer, read: Case) {
    this.#server = server;
    this.#case = read;
  }

  static async of(read: Case): Promise<Marked> {
    const files = new Map([['craft.fettle', EXAMPLE_CRAFT], ...read.files, [PATH, read.text]]);
    return new Marked(await MemoryServer.start(files, new Map([[PATH, read.text]])), read);
  }

  [Symbol.dispose](): void {
    this.#server.stop();
  }

  get diagnostics(): readonly Diagnostic[] {
    return this.#server.shown.get(this.#document.uri) ?? [];
  }

  /** Every finding has its mark and every mark its finding; the note on estimates only where it is marked. */
  findings(): void {
    const marked = this.#case.marks.filter(({ verb }) => SEVERITIES.includes(verb));
    const isReported = (id: string) => id !== 'estimates' || marked.some(({ words }) => words.startsWith('estimates'));
    const reported = this.diagnostics
      .map(({ range, severity = 1, code, message }) => ({
        head: `${at(range)} ${SEVERITIES[severity - 1]} ${code}`,
        code: String(code),
        message,
      }))
      .filter(({ code }) => isReported(code));
    const expected = marked.map(({ range, verb, words }) => {
      const [id = '', description = ''] = words.split(/: (.*)/s);
      return { head: `${at(range)} ${verb} ${id}`, description };
    });
    expect(reported.map(({ head }) => head).sort()).toEqual(expected.map(({ head }) => head).sort());
    for (const { head, description } of expected)
      expect(reported.filter((one) => one.head === head).map(({ message }) => message)).toContainEqual(
        expect.stringContaining(description),
      );
  }

  async hover({ range, words }: Mark): Promise<void> {
    const answer = await this.#ask<Hover | null>('textDocument/hover', { position: range.start });
    const text = (answer?.contents as MarkupContent | undefined)?.value ?? '';
    if (words === 'nothing') expect(text).toBe('');
    else expect(text).toContain(words);
    if (answer?.range && words !== 'nothing') expect(at(answer.range)).toBe(at(range));
  }

  /** `completes a, b` among others; `offers only a, b`; `lacks a`. */
  async completion({ range, verb, words }: Mark): Promise<void> {
    const answer = await this.#ask<CompletionItem[] | CompletionList | null>('textDocument/completion', {
      position: range.start,
    });
    const labels = (Array.isArray(answer) ? answer : (answer?.items ?? [])).map(({ label }) => label);
    const wanted = words.replace(/^only /, '').split(', ');
    if (verb === 'lacks') expect(labels.filter((label) => wanted.includes(label))).toEqual([]);
    else if (verb === 'offers') expect(labels.toSorted()).toEqual(wanted.toSorted());
    else expect(labels).toEqual(expect.arrayContaining(wanted));
  }

  async rename({ range, words }: Mark): Promise<void> {
    const edit = await this.#ask<WorkspaceEdit>('textDocument/rename', { position: range.start, newName: words });
    this.#becomes(edit, words);
  }

  /** `refuses NAME: WORDS`: a name that cannot be given, and why. */
  async refusal({ range, words }: Mark): Promise<void> {
    const [name = '', reason = ''] = words.split(/: (.*)/s);
    await expect(this.#ask('textDocument/rename', { position: range.start, newName: name })).rejects.toThrow(reason);
  }

  /** `fix TITLE`: an action of that title is offered there, and does what is behind `--- after TITLE`. */
  async fix({ range, words }: Mark): Promise<void> {
    const context = { diagnostics: this.diagnostics.filter((one) => at(one.range) === at(range)) };
    const actions = (await this.#ask<CodeAction[] | null>('textDocument/codeAction', { range, context })) ?? [];
    expect(actions.map(({ title }) => title)).toContain(words);
    const action = actions.find(({ title }) => title === words);
    this.#becomes(action?.edit ?? {}, words);
  }

  /** `refactoring TITLE`: the same of a refactoring; `refactoring none` where there is none. */
  async refactoring({ range, words }: Mark): Promise<void> {
    const context = { diagnostics: [], only: ['refactor.extract', 'refactor.inline', 'refactor.rewrite'] };
    const actions = (await this.#ask<CodeAction[] | null>('textDocument/codeAction', { range, context })) ?? [];
    const titles = actions.map(({ title }) => title);
    if (words === 'none') return expect(titles).toEqual([]);
    expect(titles).toContain(words);
    this.#becomes(actions.find(({ title }) => title === words)?.edit ?? {}, words);
  }

  #ask<R>(method: string, params: object): Promise<R> {
    return this.#server.ask(method, { textDocument: this.#document, ...params });
  }

  #becomes({ changes = {}, documentChanges = [] }: WorkspaceEdit, name: string): void {
    const expected = this.#case.after.get(name);
    if (expected === undefined) throw new Error(`no section "--- after ${name}"`);
    const edits: TextEdit[] = [
      ...(changes[this.#document.uri] ?? []),
      ...documentChanges.flatMap((change) =>
        'edits' in change && change.textDocument.uri === this.#document.uri ? (change.edits as TextEdit[]) : [],
      ),
    ];
    const document = TextDocument.create(this.#document.uri, 'fettle', 1, this.#case.text);
    expect(TextDocument.applyEdits(document, edits).trimEnd()).toBe(expected.trimEnd());
  }

  async check(mark: Mark): Promise<void> {
    switch (mark.verb) {
      case 'hover':
        return this.hover(mark);
      case 'completes':
      case 'offers':
      case 'lacks':
        return this.completion(mark);
      case 'rename':
        return this.rename(mark);
      case 'refuses':
        return this.refusal(mark);
      case 'fix':
        return this.fix(mark);
      case 'refactoring':
        return this.refactoring(mark);
      default:
        expect(SEVERITIES).toContain(mark.verb);
    }
  }
}

const folders = readdirSync(import.meta.dirname, { withFileTypes: true }).filter((entry) => entry.isDirectory());

describe.each(folders.map(({ name }) => name))('%s', (folder) => {
  const home = join(import.meta.dirname, folder);
  it.each(readdirSync(home))('%s', async (file) => {
    const read = readCase(readFileSync(join(home, file), 'utf8'));
    using marked = await Marked.of(read);
    // What is written half, to be completed, is no text to be judged.
    if (folder !== 'completion') marked.findings();
    for (const mark of read.marks) await marked.check(mark);
  });
});
