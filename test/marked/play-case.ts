/** What the server makes of a case: the file of the case as it would have to be written, and what no file could state. */
import {
  type CodeAction,
  type CompletionItem,
  type CompletionList,
  type Diagnostic,
  type Hover,
  InsertTextFormat,
  type MarkupContent,
  type SnippetTextEdit,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { uriOf } from '../references/memory-workspace.ts';
import { CaseServer, pathOf } from './case-server.ts';
import { at, type Case, type Mark, nameOf, PATH, type Renewal, renewed, SEVERITIES } from './marks.ts';
import { ONE_LINE_ANSWERS } from './one-line-answers.ts';

/** Words of which `…` leaves out what is between, within a line. */
const wordsIn = (words: string): RegExp =>
  new RegExp(words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replaceAll('…', '.*'));

const list = (items: readonly string[]): string => items.map((item) => `\n    ${item}`).join('') || ' nothing';

interface PlayedCase {
  /** The file of the case as it would have to be written. */
  readonly text: string;
  /** What no file could state. */
  readonly failures: readonly string[];
  readonly holds: boolean;
}

/** Places for the cursor as they are written. */
const plainEdit = (edit: TextEdit | SnippetTextEdit): TextEdit =>
  'snippet' in edit ? { range: edit.range, newText: edit.snippet.value } : edit;

/** Servers for cases, one for all whose client is alike: to start one takes longer than a case. Files come, change and go. */
export class CaseServers {
  readonly #servers = new Map<string, Promise<CaseServer>>();

  /** @param isJudged its findings have to be marked */
  async play(read: Case, { isJudged = true } = {}): Promise<PlayedCase> {
    const key = JSON.stringify(read.client);
    const server = this.#servers.get(key) ?? CaseServer.start(read);
    this.#servers.set(key, server);
    const played = await Played.of(read, await server, isJudged);
    const { renewal, failures } = played;
    const isRenewed = Object.values(renewal).some(
      (one: Renewal[keyof Renewal]) => ('size' in one ? one.size : one.length) > 0,
    );
    return { text: renewed(read, renewal), failures, holds: failures.length === 0 && !isRenewed };
  }

  async stop(): Promise<void> {
    for (const server of this.#servers.values()) (await server).stop();
  }
}

class Played {
  readonly #case: Case;
  readonly #server: CaseServer;
  readonly failures: string[] = [];
  readonly renewal: Renewal = { words: new Map(), added: [], after: new Map(), hovers: new Map() };

  private constructor(read: Case, server: CaseServer) {
    this.#case = read;
    this.#server = server;
  }

  static async of(read: Case, server: CaseServer, isJudged: boolean): Promise<Played> {
    await server.load(read);
    const played = new Played(read, server);
    if (isJudged) played.#findings();
    const isBare = read.marks.length === 0 && played.renewal.added.length === 0;
    if (isBare && !/^\/\/ nothing is found$/m.test(read.text)) played.failures.push('a case without a mark');
    for (const mark of read.marks) if (!isJudged || !SEVERITIES.includes(mark.verb)) await played.#check(mark);
    return played;
  }

  #fail({ path, range, verb, words }: Mark, why: string): void {
    this.failures.push(`${path} ${at(range)} ${verb} ${words}: ${why}`);
  }

  #diagnosticsAt({ path, range }: Mark): Diagnostic[] {
    return (this.#server.shown.get(path) ?? []).filter((one) => at(one.range) === at(range));
  }

  /**
   * Every finding has its mark and every mark its finding, in all files; the note on estimates only where it is marked. `error ID: WORDS` of
   * its message, `error ID = MESSAGE` all of it.
   */
  #findings(): void {
    const marks = this.#case.marks.filter(({ verb }) => SEVERITIES.includes(verb));
    const isEstimates = ({ words }: Mark): boolean => /^estimates\b/.test(words);
    const found = [...this.#server.shown].flatMap(([path, diagnostics]) =>
      diagnostics
        .map((one) => ({
          mark: {
            path,
            range: one.range,
            verb: SEVERITIES[(one.severity ?? 1) - 1] ?? '',
            words: `${one.code} = ${one.message}`,
          },
          message: String(one.message),
        }))
        .filter(({ mark }) => !isEstimates(mark) || marks.some((other) => other.path === path && isEstimates(other))),
    );
    const head = ({ path, range, verb, words }: Mark): string =>
      `${path} ${at(range)} ${verb} ${words.match(/^[^\s:]+/)}`;
    const take = (mark: Mark, holds: (message: string) => boolean) => {
      const i = found.findIndex((one) => head(one.mark) === head(mark) && holds(one.message));
      return i < 0 ? undefined : found.splice(i, 1)[0];
    };
    const unmet = marks.filter((mark) => {
      const [, sign = ':', words = ''] = /^\S+?(?:(:| =) (.*))?$/.exec(mark.words) ?? [];
      return !take(mark, (message) => (sign === ':' ? message.includes(words) : message === words));
    });
    for (const mark of unmet) this.renewal.words.set(mark, take(mark, () => true)?.mark.words);
    for (const { mark } of found) {
      if (this.#case.files.has(mark.path) || mark.path === PATH) this.renewal.added.push(mark);
      else this.#fail(mark, 'found in a file that is not of the case');
    }
  }

  /** `related WORDS` of a place that the finding there names in addition, `FILE:LINE:COLUMN MESSAGE`; `unrelated WORDS` of none. */
  #related(mark: Mark): void {
    const found = this.#diagnosticsAt(mark);
    if (found.length === 0) {
      this.#fail(mark, 'nothing is found there');
      return;
    }
    const places = found
      .flatMap(({ relatedInformation = [] }) => relatedInformation)
      .map(({ location, message }) => {
        const { line, character } = location.range.start;
        return `${pathOf(location.uri)}:${line + 1}:${character + 1} ${message}`;
      });
    if (places.some((place) => wordsIn(mark.words).test(place)) !== (mark.verb === 'related'))
      this.#fail(mark, `named is${list(places)}`);
  }

  /** `hover WORDS`, `hover nothing`; `omits WORDS` of what is shown; `hover = NAME`: all of it is behind `--- hover NAME`. */
  async #hover(mark: Mark): Promise<void> {
    const { path, range, verb, words } = mark;
    const answer = await this.#server.ask<Hover | null>(path, 'textDocument/hover', { position: range.start });
    const text = (answer?.contents as MarkupContent | undefined)?.value ?? '';
    if (verb === 'hover' && words === 'nothing') {
      if (answer) this.#fail(mark, `shown is\n${text}`);
      return;
    }
    if (!answer) return this.#fail(mark, 'nothing is shown');
    if (verb === 'omits') {
      if (wordsIn(words).test(text)) this.#fail(mark, `shown is\n${text}`);
      return;
    }
    if (answer.range && at(answer.range) !== at(range)) this.#fail(mark, `shown is what is at ${at(answer.range)}`);
    if (words.startsWith('= ')) {
      if (this.#case.hovers.get(nameOf(mark))?.trimEnd() !== text.trimEnd())
        this.renewal.hovers.set(nameOf(mark), `${text.trimEnd()}\n`);
    } else if (!wordsIn(words).test(text)) this.#fail(mark, `shown is\n${text}`);
  }

  /** Offers at a place, in the order in which a client lists them. */
  async #offers({ path, range }: Mark): Promise<CompletionItem[]> {
    const answer = await this.#server.ask<CompletionItem[] | CompletionList | null>(path, 'textDocument/completion', {
      position: range.start,
    });
    const items = Array.isArray(answer) ? answer : (answer?.items ?? []);
    return items.toSorted((left, right) => ((left.sortText ?? '') < (right.sortText ?? '') ? -1 : 1));
  }

  /** `completes a, b` among others; `offers first a, b` and `offers only a, b` in this order, `offers nothing`; `lacks a` among others. */
  async #completion(mark: Mark): Promise<void> {
    const labels = (await this.#offers(mark)).map(({ label }) => label);
    if (mark.verb === 'offers') {
      const [, amount, wanted = ''] = /^(first|only|nothing)(?: (.*))?$/.exec(mark.words) ?? [];
      if (amount === undefined) return this.#fail(mark, '`first`, `only` or `nothing`?');
      const offered = (amount === 'first' ? labels.slice(0, wanted.split(', ').length) : labels).join(', ');
      if (offered !== wanted)
        this.renewal.words.set(mark, offered === '' ? 'nothing' : `${amount === 'first' ? amount : 'only'} ${offered}`);
      return;
    }
    const wanted = mark.words.split(', ');
    const isWrong =
      mark.verb === 'completes'
        ? wanted.some((label) => !labels.includes(label))
        : labels.length === 0 || wanted.some((label) => labels.includes(label));
    if (isWrong) this.#fail(mark, `offered is${list(labels)}`);
  }

  /** `inserts LABEL`: an offer of that label does what is behind `--- after LABEL`, where `${1}` is a place for the cursor. */
  async #insertion(mark: Mark): Promise<void> {
    const offers = await this.#offers(mark);
    const offer = offers.find(({ label }) => label === mark.words);
    const { textEdit, additionalTextEdits = [] } = offer ?? {};
    if (!textEdit || !('range' in textEdit))
      return this.#fail(mark, `offered is${list(offers.map(({ label }) => label))}`);
    const isSnippet = offer?.insertTextFormat === InsertTextFormat.Snippet;
    if (isSnippet !== /\$\{?\d/.test(textEdit.newText))
      this.#fail(mark, 'a snippet without a place, or places in none');
    this.#becomes(mark, { changes: { [uriOf(mark.path).toString()]: [textEdit, ...additionalTextEdits] } });
  }

  async #answer(mark: Mark, answer: NonNullable<(typeof ONE_LINE_ANSWERS)[string]>): Promise<void> {
    const words = (await answer(this.#server, mark)) || 'nothing';
    if (words !== mark.words) this.renewal.words.set(mark, words);
  }

  /** `formatted NAME`: the whole text, laid out, is behind `--- after NAME`. */
  async #formatting(mark: Mark): Promise<void> {
    const params = { options: { tabSize: 2, insertSpaces: true } };
    const edits = (await this.#server.ask<TextEdit[] | null>(mark.path, 'textDocument/formatting', params)) ?? [];
    this.#becomes(mark, { changes: { [uriOf(mark.path).toString()]: edits } });
  }

  async #rename(mark: Mark): Promise<void> {
    const { path, range, words } = mark;
    const params = { position: range.start, newName: words };
    this.#becomes(mark, await this.#server.ask<WorkspaceEdit>(path, 'textDocument/rename', params));
  }

  /** `refuses NAME: WORDS`: a name that cannot be given, and why. */
  async #refusal(mark: Mark): Promise<void> {
    const [name = '', reason = ''] = mark.words.split(/: (.*)/s);
    const params = { position: mark.range.start, newName: name };
    const refused = await this.#server.ask(mark.path, 'textDocument/rename', params).then(
      () => undefined,
      ({ message }: Error) => message,
    );
    if (refused === undefined) this.#fail(mark, 'it is not refused');
    else if (reason === '' || !refused.includes(reason)) this.renewal.words.set(mark, `${name}: ${refused}`);
  }

  async #actions({ path, range }: Pick<Mark, 'path' | 'range'>, context: object): Promise<CodeAction[]> {
    return (await this.#server.ask<CodeAction[] | null>(path, 'textDocument/codeAction', { range, context })) ?? [];
  }

  /**
   * `fix TITLE`: a quick fix of that title is offered there, and does what is behind `--- after TITLE`; `fix only TITLE`: and nothing else is;
   * `fix none`: nothing is. `prefers TITLE`: it is the one that a key takes; `prefers none` of those that are offered.
   */
  async #fix(mark: Mark): Promise<void> {
    const actions = await this.#actions(mark, { diagnostics: this.#diagnosticsAt(mark) });
    const titles = actions.map((one) => (one.isPreferred ? `${one.title} (preferred)` : one.title));
    const name = nameOf(mark);
    const isOnly = mark.words.startsWith('only ');
    const preferred = actions.filter(({ isPreferred }) => isPreferred).map(({ title }) => title);
    const action = actions.find(({ title }) => title === name);
    const holds =
      mark.verb === 'prefers'
        ? titles.length > 0 && preferred.join('\n') === (name === 'none' ? '' : name)
        : name === 'none'
          ? titles.length === 0
          : action !== undefined && (!isOnly || titles.length === 1);
    if (!holds) return this.#fail(mark, `offered is${list(titles)}`);
    if (action === undefined) return;
    const about = action.diagnostics?.some((one) => at(one.range) === at(mark.range));
    if (action.kind !== 'quickfix' || !about) this.#fail(mark, `it is a ${action.kind} of another place`);
    this.#becomes(mark, action.edit);
  }

  /** `disabled TITLE: WORDS`: what is named as needed and changes nothing, and why. */
  async #disabled(mark: Mark): Promise<void> {
    const actions = await this.#actions(mark, { diagnostics: this.#diagnosticsAt(mark) });
    const named = actions.flatMap(({ title, disabled, edit }) =>
      disabled && !edit ? [`${title}: ${disabled.reason}`] : [],
    );
    if (!named.includes(mark.words)) this.#fail(mark, `offered is${list(named)}`);
  }

  /** `saving NAME`: an editor that fixes on saving does what is behind `--- after NAME`; `saving nothing` where it does not change the text. */
  async #saving(mark: Mark): Promise<void> {
    const end = { line: (this.#server.texts.get(mark.path) ?? '').split('\n').length, character: 0 };
    const range = { start: { line: 0, character: 0 }, end };
    const actions = await this.#actions({ path: mark.path, range }, { diagnostics: [], only: ['source.fixAll'] });
    const kinds = actions.map(({ kind }) => kind).join(', ');
    if (kinds !== (mark.words === 'nothing' ? '' : 'source.fixAll')) return this.#fail(mark, `offered is: ${kinds}`);
    if (mark.words !== 'nothing') this.#becomes(mark, actions[0]?.edit);
  }

  /** `refactoring TITLE`: the same of a refactoring; `refactoring none` where there is none, except to move the part to another file. */
  async #refactoring(mark: Mark): Promise<void> {
    const kinds = ['refactor.extract', 'refactor.inline', 'refactor.rewrite'];
    const isNone = mark.words === 'none';
    const actions = await this.#actions(mark, { diagnostics: [], only: isNone ? kinds : ['refactor'] });
    const action = actions.find(({ title }) => title === mark.words);
    if (isNone ? actions.length > 0 : action === undefined)
      return this.#fail(mark, `offered is${list(actions.map(({ title }) => title))}`);
    if (action) this.#becomes(mark, action.edit);
  }

  /** An edit makes of each file what its section has, and edits no file that has no section. */
  #becomes(mark: Mark, { changes = {}, documentChanges = [] }: WorkspaceEdit = {}): void {
    const edits = new Map(Object.entries(changes));
    for (const change of documentChanges) {
      if (!('edits' in change)) {
        this.#fail(mark, 'a file is to be created, renamed or deleted');
        return;
      }
      const { uri } = change.textDocument;
      edits.set(uri, [...(edits.get(uri) ?? []), ...change.edits.map(plainEdit)]);
    }
    const name = nameOf(mark);
    const expected = this.#case.after.get(name) ?? new Map<string, string>();
    const become = [...edits].map(([uri, its]) => {
      const document = TextDocument.create(uri, 'fettle', 1, this.#server.texts.get(pathOf(uri)) ?? '');
      return [pathOf(uri), TextDocument.applyEdits(document, its).trimEnd()] as const;
    });
    if (become.length === 0) {
      this.#fail(mark, 'it edits nothing');
      return;
    }
    const isSame =
      become.length === expected.size && become.every(([path, text]) => text === expected.get(path)?.trimEnd());
    if (isSame) return;
    const kept = ([path, text]: readonly [string, string]) =>
      [path, text === expected.get(path)?.trimEnd() ? (expected.get(path) ?? '') : `${text}\n`] as const;
    this.renewal.after.set(name, new Map(become.map(kept)));
  }

  async #check(mark: Mark): Promise<void> {
    const answer = ONE_LINE_ANSWERS[mark.verb];
    if (answer) return this.#answer(mark, answer);
    switch (mark.verb) {
      case 'related':
      case 'unrelated':
        return this.#related(mark);
      case 'hover':
      case 'omits':
        return this.#hover(mark);
      case 'completes':
      case 'offers':
      case 'lacks':
        return this.#completion(mark);
      case 'inserts':
        return this.#insertion(mark);
      case 'rename':
        return this.#rename(mark);
      case 'refuses':
        return this.#refusal(mark);
      case 'formatted':
        return this.#formatting(mark);
      case 'disabled':
        return this.#disabled(mark);
      case 'fix':
      case 'prefers':
        return this.#fix(mark);
      case 'saving':
        return this.#saving(mark);
      case 'refactoring':
        return this.#refactoring(mark);
      default:
        return this.#fail(mark, 'nothing checks such a mark here');
    }
  }
}
