/** Cases that are files: a text with marks where something is found, offered, explained or done. One folder a feature; see `marks.ts`. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  type CodeAction,
  type CompletionItem,
  type CompletionList,
  type Diagnostic,
  FileChangeType,
  type FileEvent,
  type Hover,
  InsertTextFormat,
  type MarkupContent,
  type Position,
  type Range,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { MemoryServer } from '../protocol/memory-server.ts';
import { uriOf } from '../references/memory-workspace.ts';
import { type Case, type Mark, PATH, readCase } from './marks.ts';

const SEVERITIES = ['error', 'warning', 'information', 'hint'];

const at = ({ start, end }: Range): string =>
  `${start.line + 1}:${start.character + 1}-${end.line === start.line ? '' : `${end.line + 1}:`}${end.character + 1}`;

const CODE_ACTION = { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } }, isPreferredSupport: true };

/** Words of which `…` leaves out what is between, within a line. */
const wordsIn = (words: string): RegExp =>
  new RegExp(words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replaceAll('…', '.*'));

const CRAFT = ['craft.fettle', EXAMPLE_CRAFT] as const;

/** One server for all cases, which takes longer to start than a case: files come, change and go. */
let server: MemoryServer;
let there = new Map([CRAFT, [PATH, '']]);
beforeAll(async () => {
  server = await MemoryServer.start(there, new Map([[PATH, '']]), { textDocument: { codeAction: CODE_ACTION } });
});
afterAll(() => server.stop());

async function replaceFiles(files: Map<string, string>): Promise<void> {
  const before = there;
  there = files;
  const events: FileEvent[] = [];
  for (const path of new Set([...before.keys(), ...files.keys()])) {
    const [old, text] = [before.get(path), files.get(path)];
    if (old === text) continue;
    if (text === undefined) server.files.texts.delete(uriOf(path).path);
    else server.files.texts.set(uriOf(path).path, text);
    const { Created, Changed, Deleted } = FileChangeType;
    events.push(MemoryServer.event(path, text === undefined ? Deleted : old === undefined ? Created : Changed));
  }
  await server.notify(events);
}

class Marked {
  readonly #server = server;
  readonly #case: Case;
  readonly #document = { uri: uriOf(PATH).toString() };

  private constructor(read: Case) {
    this.#case = read;
  }

  static async of(read: Case): Promise<Marked> {
    await server.closeText(PATH);
    await replaceFiles(new Map([CRAFT, ...read.files, [PATH, read.text]]));
    await server.openText(PATH, read.text);
    await server.settled();
    return new Marked(read);
  }

  get diagnostics(): readonly Diagnostic[] {
    return this.#server.shown.get(this.#document.uri) ?? [];
  }

  /**
   * Every finding has its mark and every mark its finding; the note on estimates only where it is marked. `error ID: WORDS` of its message,
   * `error ID = MESSAGE` all of it.
   */
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
      const [, id = '', sign = ':', description = ''] = /^(\S+?)(?:(:| =) (.*))?$/.exec(words) ?? [];
      return { head: `${at(range)} ${verb} ${id}`, description, isWhole: sign === ' =' };
    });
    expect(reported.map(({ head }) => head).sort()).toEqual(expected.map(({ head }) => head).sort());
    for (const { head, description, isWhole } of expected)
      expect(reported.filter((one) => one.head === head).map(({ message }) => message)).toContainEqual(
        isWhole ? description : expect.stringContaining(description),
      );
  }

  /** `related WORDS` of a place that the finding there names in addition, `FILE:LINE:COLUMN MESSAGE`; `unrelated WORDS` of none. */
  related({ range, verb, words }: Mark): void {
    const found = this.diagnostics.filter((one) => at(one.range) === at(range));
    expect(found).not.toEqual([]);
    const places = found
      .flatMap(({ relatedInformation = [] }) => relatedInformation)
      .map(({ location, message }) => {
        const { line, character } = location.range.start;
        return `${location.uri.slice(uriOf('').toString().length)}:${line + 1}:${character + 1} ${message}`;
      });
    const wanted = expect.stringMatching(wordsIn(words));
    if (verb === 'related') expect(places).toContainEqual(wanted);
    else expect(places).not.toContainEqual(wanted);
  }

  /** `hover WORDS`, `hover nothing`; `omits WORDS` of what is shown. */
  async hover({ range, verb, words }: Mark): Promise<void> {
    const answer = await this.#ask<Hover | null>('textDocument/hover', { position: range.start });
    const text = (answer?.contents as MarkupContent | undefined)?.value ?? '';
    if (verb === 'hover' && words === 'nothing') return expect(answer).toBeNull();
    expect(text).not.toBe('');
    if (verb === 'omits') return expect(text).not.toMatch(wordsIn(words));
    expect(text).toMatch(wordsIn(words));
    if (answer?.range) expect(at(answer.range)).toBe(at(range));
  }

  /** Offers at a place, in the order in which a client lists them. */
  async #offers(position: Position): Promise<CompletionItem[]> {
    const answer = await this.#ask<CompletionItem[] | CompletionList | null>('textDocument/completion', { position });
    const items = Array.isArray(answer) ? answer : (answer?.items ?? []);
    return items.toSorted((left, right) => ((left.sortText ?? '') < (right.sortText ?? '') ? -1 : 1));
  }

  /** `completes a, b` among others; `offers first a, b` and `offers only a, b` in this order, `offers nothing`; `lacks a` among others. */
  async completion({ range, verb, words }: Mark): Promise<void> {
    const labels = (await this.#offers(range.start)).map(({ label }) => label);
    const [, amount = '', list = ''] = /^(first |only |nothing$)?(.*)$/.exec(words) ?? [];
    const wanted = list === '' ? [] : list.split(', ');
    if (verb === 'completes') return expect(labels).toEqual(expect.arrayContaining(wanted));
    if (verb === 'offers') {
      expect(amount).not.toBe('');
      return expect(amount === 'first ' ? labels.slice(0, wanted.length) : labels).toEqual(wanted);
    }
    expect(labels).not.toEqual([]);
    expect(labels.filter((label) => wanted.includes(label))).toEqual([]);
  }

  /** `inserts LABEL`: an offer of that label does what is behind `--- after LABEL`, where `${1}` is a place for the cursor. */
  async insertion({ range, words }: Mark): Promise<void> {
    const offer = (await this.#offers(range.start)).find(({ label }) => label === words);
    const { textEdit, additionalTextEdits = [] } = offer ?? {};
    if (!textEdit || !('range' in textEdit)) throw new Error(`no offer ${words}`);
    expect(offer?.insertTextFormat === InsertTextFormat.Snippet).toBe(/\$\{?\d/.test(textEdit.newText));
    this.#becomes({ changes: { [this.#document.uri]: [textEdit, ...additionalTextEdits] } }, words);
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

  /**
   * `fix TITLE`: a quick fix of that title is offered there, and does what is behind `--- after TITLE`; `fix only TITLE`: and nothing else is;
   * `fix none`: nothing is. `prefers TITLE`: it is the one that a key takes; `prefers none` of those that are offered.
   */
  async fix({ range, verb, words }: Mark): Promise<void> {
    const context = { diagnostics: this.diagnostics.filter((one) => at(one.range) === at(range)) };
    const actions = (await this.#ask<CodeAction[] | null>('textDocument/codeAction', { range, context })) ?? [];
    const titles = actions.map(({ title }) => title);
    const preferred = actions.flatMap(({ title, isPreferred }) => (isPreferred ? [title] : []));
    const title = words.replace(/^only /, '');
    if (verb === 'fix' && title === 'none') return expect(titles).toEqual([]);
    if (verb === 'prefers') {
      expect(titles).not.toEqual([]);
      expect(preferred).toEqual(title === 'none' ? [] : [title]);
      if (title === 'none') return;
    }
    if (title === words) expect(titles).toContain(title);
    else expect(titles).toEqual([title]);
    const action = actions.find((one) => one.title === title);
    expect(action?.kind).toBe('quickfix');
    expect(action?.diagnostics?.map((one) => at(one.range))).toContain(at(range));
    this.#becomes(action?.edit ?? {}, title);
  }

  /** `saving NAME`: an editor that fixes on saving does what is behind `--- after NAME`; `saving nothing` where it does not change the text. */
  async saving({ words }: Mark): Promise<void> {
    const end = { line: this.#case.text.split('\n').length, character: 0 };
    const actions = await this.#ask<CodeAction[] | null>('textDocument/codeAction', {
      range: { start: { line: 0, character: 0 }, end },
      context: { diagnostics: [], only: ['source.fixAll'] },
    });
    if (words === 'nothing') return expect(actions ?? []).toEqual([]);
    expect(actions?.map(({ kind }) => kind)).toEqual(['source.fixAll']);
    this.#becomes(actions?.[0]?.edit ?? {}, words);
  }

  /** `refactoring TITLE`: the same of a refactoring; `refactoring none` where there is none, except to move the part to another file. */
  async refactoring({ range, words }: Mark): Promise<void> {
    const kinds = ['refactor.extract', 'refactor.inline', 'refactor.rewrite'];
    const context = { diagnostics: [], only: words === 'none' ? kinds : ['refactor'] };
    const actions = (await this.#ask<CodeAction[] | null>('textDocument/codeAction', { range, context })) ?? [];
    const titles = actions.map(({ title }) => title);
    if (words === 'none') return expect(titles).toEqual([]);
    expect(titles).toContain(words);
    this.#becomes(actions.find(({ title }) => title === words)?.edit ?? {}, words);
  }

  #ask<R>(method: string, params: object): Promise<R> {
    return this.#server.ask(method, { textDocument: this.#document, ...params });
  }

  /** An edit makes of each file what its section has, and edits no file that has no section. */
  #becomes({ changes = {}, documentChanges = [] }: WorkspaceEdit, name: string): void {
    const expected = this.#case.after.get(name);
    if (expected === undefined) throw new Error(`no section "--- after ${name}"`);
    const edits = new Map(Object.entries(changes));
    for (const change of documentChanges) {
      if (!('edits' in change)) throw new Error(`${name}: a file is to be created, renamed or deleted`);
      const { uri } = change.textDocument;
      edits.set(uri, [...(edits.get(uri) ?? []), ...(change.edits as TextEdit[])]);
    }
    const become = [...edits].map(([uri, its]) => {
      const path = uri.slice(uriOf('').toString().length);
      const document = TextDocument.create(uri, 'fettle', 1, there.get(path) ?? '');
      return [path, TextDocument.applyEdits(document, its).trimEnd()] as const;
    });
    expect(new Map(become)).toEqual(new Map([...expected].map(([path, text]) => [path, text.trimEnd()])));
  }

  async check(mark: Mark): Promise<void> {
    switch (mark.verb) {
      case 'related':
      case 'unrelated':
        return this.related(mark);
      case 'hover':
      case 'omits':
        return this.hover(mark);
      case 'completes':
      case 'offers':
      case 'lacks':
        return this.completion(mark);
      case 'inserts':
        return this.insertion(mark);
      case 'rename':
        return this.rename(mark);
      case 'refuses':
        return this.refusal(mark);
      case 'fix':
      case 'prefers':
        return this.fix(mark);
      case 'saving':
        return this.saving(mark);
      case 'refactoring':
        return this.refactoring(mark);
      default:
        throw new Error(`nothing checks a mark "${mark.verb}" here`);
    }
  }
}

const folders = readdirSync(import.meta.dirname, { withFileTypes: true }).filter((entry) => entry.isDirectory());

describe.each(folders.map(({ name }) => name))('%s', (folder) => {
  const home = join(import.meta.dirname, folder);
  it.each(readdirSync(home))('%s', async (file) => {
    const read = readCase(readFileSync(join(home, file), 'utf8'));
    const marked = await Marked.of(read);
    // What is written half, to be completed, is no text to be judged: a mark of a finding in it fails.
    const isJudged = folder !== 'completion';
    if (isJudged) marked.findings();
    for (const mark of read.marks) if (!isJudged || !SEVERITIES.includes(mark.verb)) await marked.check(mark);
  });
});
