/**
 * What is reported to a person who is writing, and when. The line under the last edit is a prefix most of the time: what is wrong with it only because
 * it is one, and what is wrong elsewhere only because of it, waits until the line is left, or a pause.
 */
import { DocumentState, type LangiumDocument, UriUtils } from 'langium';
import type { Diagnostic, Position } from 'vscode-languageserver-types';
import { isObserved, isRail, isRows, type Part } from '../../grammar/generated/ast.ts';
import { placeOfFeature } from '../../syntax/source.ts';
import { TEXT_FINDINGS } from '../../vocabulary/findings.ts';
import type { EditorServices, EngineServices } from '../engine/editor-services.ts';
import { isUnfinished } from './unfinished.ts';
import { type Change, changeBetween, isTyping, lineAround, lineAt, partWrittenAt } from './writing-place.ts';

/** How long nothing is typed before something is reported. ms */
export interface Pauses {
  /** About a line that may be finished. */
  readonly short: number;
  /** About one that can hardly be. */
  readonly long: number;
  /** After this a half-written line is reported as any other. */
  readonly rest: number;
}

/** Ours: longer than between two keys of a person who types, and below a second. */
const PAUSES: Pauses = { short: 250, long: 600, rest: 3000 };

/** A place that a completed block leaves to be filled in: `kv:  rpm/V`, `cells: S`, `motors: 4 x  with `. */
const BLANK = /(?::|\bx|\bwith)(?: *$| {2}| S$)/;

type Stage = 'typing' | 'paused';

/** Where is being written. */
interface Place {
  readonly key: string;
  /** Behind what was written last. */
  cursor: number;
  stage: Stage;
  /** Lines that were written since everything was reported, from 0. */
  readonly touched: Set<number>;
  /** Of the lines that came in one piece those with a place left to fill in, from 0. */
  readonly blanks: Set<number>;
  /** The first and the last line of that piece: nothing is reported between them while there are blanks, until the piece is left. */
  readonly piece: Set<number>;
  /** Where the part that is written begins; undefined between parts. */
  block: number | undefined;
  /** It lacked something when its writing began: until it is left, or complete and a pause long, it is a fragment. */
  isFragment: boolean;
  /** Something else than this text changed meanwhile: other files have findings of their own. */
  isElsewhereToo: boolean;
}

/** A finding that was reported already, by its words without its figures, and where. */
interface Reported {
  readonly stated: string;
  line: number;
  readonly diagnostic: Diagnostic;
}

export class Writing {
  readonly #services: EngineServices;
  readonly #fettle: () => EditorServices;
  #pauses: Pauses = PAUSES;
  #isQuiet = true;
  #place: Place | undefined;
  /** Of each open text, as it was before the edit that is coming. */
  readonly #texts = new Map<string, string>();
  /** What each file was reported when nothing was delayed. */
  readonly #standing = new Map<string, Reported[]>();
  readonly #listeners: (() => void)[] = [];
  #timers: NodeJS.Timeout[] = [];

  constructor(services: EngineServices) {
    this.#services = services;
    this.#fettle = () => services.ServiceRegistry.all[0] as EditorServices;
    const { TextDocuments, DocumentBuilder } = services.workspace;
    services.lsp.LanguageServer.onInitialize(({ initializationOptions }) => {
      this.#isQuiet = (initializationOptions as { quietWhileTyping?: unknown } | undefined)?.quietWhileTyping !== false;
    });
    TextDocuments.onDidOpen(({ document }) => this.#texts.set(UriUtils.normalize(document.uri), document.getText()));
    TextDocuments.onDidChangeContent(({ document }) => this.#edited(document.uri, document.getText()));
    TextDocuments.onDidClose(({ document }) => this.#closed(UriUtils.normalize(document.uri)));
    TextDocuments.onDidSave(() => this.rest());
    DocumentBuilder.onUpdate((changed, deleted) => {
      const others = [...changed, ...deleted].some((uri) => uri.toString() !== this.#place?.key);
      if (this.#place !== undefined && others) this.#place.isElsewhereToo = true;
      for (const uri of deleted) this.#standing.delete(uri.toString());
    });
  }

  /** Other pauses; none where they are not finite: then `pause` and `rest` are called. */
  waitFor(pauses: Pauses): void {
    this.#pauses = pauses;
  }

  /** Called when more, or less, is shown than before without a new check. */
  onChange(listener: () => void): void {
    this.#listeners.push(listener);
  }

  // ---- what the person does ----

  #edited(uri: string, text: string): void {
    const key = UriUtils.normalize(uri);
    const before = this.#texts.get(key);
    this.#texts.set(key, text);
    const change = before === undefined ? undefined : changeBetween(before, text);
    if (!this.#isQuiet || before === undefined || change === undefined) return;
    const left = this.#place?.key === key ? undefined : this.#place;
    const touched = this.#place?.key === key ? this.#place.touched : new Set<number>();
    const blanks = this.#place?.key === key ? this.#place.blanks : new Set<number>();
    const piece = this.#place?.key === key ? this.#place.piece : new Set<number>();
    const written = this.#moveLines(key, [touched, blanks, piece], before, text, change);
    const isWhole = !isTyping(before, text, change);
    const lines = text.split('\n');
    for (const line of written) {
      if (BLANK.test(lines[line] ?? '') && (isWhole || blanks.has(line))) blanks.add(line);
      else blanks.delete(line);
    }
    if (isWhole) {
      piece.clear();
      for (const line of [written[0], written.at(-1)]) piece.add(line ?? 0);
    }
    const block = this.#blockAt(key, change.start);
    const isSameBlock = this.#place?.key === key && this.#place.block === block;
    this.#place = {
      key,
      cursor: change.newEnd,
      stage: isWhole ? 'paused' : 'typing',
      touched,
      blanks,
      piece,
      block,
      isFragment: isSameBlock ? (this.#place?.isFragment ?? false) : this.#wasFragment(key, block),
      isElsewhereToo: false,
    };
    if (left !== undefined) this.#tell();
    this.#startTimers();
  }

  /** Moves known lines with the text; those that were written are returned, and belong to the first set. */
  #moveLines(
    key: string,
    known: readonly Set<number>[],
    before: string,
    text: string,
    change: Change,
  ): readonly number[] {
    const first = lineAt(before, change.start);
    const [oldLast, newLast] = [lineAt(before, change.oldEnd), lineAt(text, change.newEnd)];
    const moved = (line: number): number => (line > first && line >= oldLast ? line + newLast - oldLast : line);
    for (const set of known) {
      const lines = [...set].map(moved);
      set.clear();
      for (const line of lines) set.add(line);
    }
    const written = Array.from({ length: newLast - first + 1 }, (_, i) => first + i);
    for (const line of written) known[0]?.add(line);
    for (const one of this.#standing.get(key) ?? []) one.line = moved(one.line);
    return written;
  }

  /** The cursor was seen somewhere: behind another line there is nothing to wait for. */
  seenAt(uri: string, { line }: Position): void {
    const place = this.#place;
    if (place === undefined) return;
    const key = UriUtils.normalize(uri);
    const text = this.#texts.get(place.key) ?? '';
    if (key === place.key && line === lineAt(text, place.cursor)) return;
    const offset = this.#services.workspace.TextDocuments.get(uri)?.offsetAt({ line, character: 0 }) ?? 0;
    const isLeft = place.blanks.size > 0 ? !isInPiece(place, line) : this.#blockAt(key, offset + 1) !== place.block;
    if (key !== place.key || isLeft) this.rest();
    else {
      place.cursor = offset;
      this.pause();
    }
  }

  #closed(key: string): void {
    this.#texts.delete(key);
    if (this.#place?.key === key) this.rest();
  }

  // ---- pauses ----

  #startTimers(): void {
    this.#stopTimers();
    const after = (ms: number, act: () => void): void => {
      if (!Number.isFinite(ms)) return;
      const timer = setTimeout(act, ms);
      (timer as Partial<NodeJS.Timeout>).unref?.();
      this.#timers.push(timer);
    };
    after(this.#pauses.short, () => {
      if (this.#mayBeFinished()) this.pause();
    });
    after(this.#pauses.long, () => this.pause());
    after(this.#pauses.rest, () => {
      if (this.#place?.blanks.size === 0) this.rest();
    });
  }

  #stopTimers(): void {
    for (const timer of this.#timers) clearTimeout(timer);
    this.#timers = [];
  }

  /** Nothing was typed for a while: what is there is reported, except for what may still become right. */
  pause(): void {
    if (this.#place === undefined || this.#place.stage === 'paused') return;
    this.#place.stage = 'paused';
    this.#tell();
  }

  /** Whoever wrote has stopped, saved or gone elsewhere: everything is reported. */
  rest(): void {
    this.#stopTimers();
    if (this.#place === undefined) return;
    this.#place = undefined;
    this.#tell();
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }

  // ---- what is reported ----

  /** Of the findings of a file those that are reported now. */
  shown(document: LangiumDocument): Diagnostic[] {
    const all = document.diagnostics ?? [];
    const key = document.uri.toString();
    const place = this.#place;
    if (place === undefined) return this.#stand(key, all);
    const written = this.#services.workspace.LangiumDocuments.getDocument(document.uri);
    if (place.key === key) return this.#shownWhereWritten(document, place, all);
    if (place.isElsewhereToo) return this.#stand(key, all);
    const source = [...this.#services.workspace.LangiumDocuments.all].find(({ uri }) => uri.toString() === place.key);
    const isHeld = place.stage === 'typing' || (source !== undefined && this.#isPartial(source, place));
    if (!isHeld || written === undefined) return this.#stand(key, all);
    // What was there before the edit is there still, until it is known what the edit will be.
    return (this.#standing.get(key) ?? []).map(({ diagnostic }) => diagnostic);
  }

  #stand(key: string, shown: readonly Diagnostic[]): Diagnostic[] {
    this.#standing.set(
      key,
      shown.map((diagnostic) => ({ stated: stillReported(diagnostic), line: diagnostic.range.start.line, diagnostic })),
    );
    return [...shown];
  }

  #shownWhereWritten(document: LangiumDocument, place: Place, all: readonly Diagnostic[]): Diagnostic[] {
    const text = document.textDocument.getText();
    const line = lineAt(text, place.cursor);
    const open = [...(this.#standing.get(place.key) ?? [])];
    const part = partWrittenAt(document, place.cursor);
    const isHeldLine = this.#unfinishedIn(document, place).length > 0;
    const isFragment = this.#isFragmentAt(document, place, part);
    const reported = all.flatMap((diagnostic): Diagnostic[] => {
      const stated = stillReported(diagnostic);
      const at = open.findIndex((one) => one.stated === stated && one.line === diagnostic.range.start.line);
      if (at >= 0) {
        const [known] = open.splice(at, 1);
        // Its figures change while the line does; they are reported anew with the rest.
        const isStale = place.stage === 'typing' || isHeldLine || isFragment;
        return [isStale && known ? { ...diagnostic, message: known.diagnostic.message } : diagnostic];
      }
      if (isHeaderOf(part, diagnostic, document) || diagnostic.code === 'unused-use') return [];
      if (isInPiece(place, diagnostic.range.start.line)) return [];
      const isOnLine = diagnostic.range.start.line === line;
      if (isOnLine && isUnfinished(document, place.cursor, diagnostic, this.#prefixes)) return [];
      if (place.stage === 'typing') {
        const isLeft = !isOnLine && place.touched.has(diagnostic.range.start.line);
        return isLeft && isOfText(diagnostic) ? [diagnostic] : [];
      }
      if (isOfText(diagnostic) && place.touched.has(diagnostic.range.start.line)) return [diagnostic];
      return isHeldLine || (isFragment && !isOfText(diagnostic)) ? [] : [diagnostic];
    });
    return place.stage === 'paused' && !isHeldLine ? this.#stand(place.key, reported) : reported;
  }

  readonly #prefixes = (document: LangiumDocument, offset: number): boolean =>
    this.#fettle().lsp.CompletionProvider.isPrefix(document, offset);

  /** Of the findings on the line that is written those that may go when it goes on. */
  #unfinishedIn(document: LangiumDocument, place: Place): Diagnostic[] {
    const line = lineAt(document.textDocument.getText(), place.cursor);
    return (document.diagnostics ?? []).filter(
      (one) => one.range.start.line === line && isUnfinished(document, place.cursor, one, this.#prefixes),
    );
  }

  /** What is written there cannot be judged yet, and whatever rests on it. */
  #isPartial(document: LangiumDocument, place: Place): boolean {
    const part = partWrittenAt(document, place.cursor);
    return this.#unfinishedIn(document, place).length > 0 || this.#isFragmentAt(document, place, part);
  }

  #isFragmentAt(document: LangiumDocument, place: Place, part: Part | undefined): boolean {
    if (part === undefined) return false;
    return place.isFragment || (document.diagnostics ?? []).some((one) => isHeaderOf(part, one, document));
  }

  /** Whether somebody types in a file what cannot be judged yet. */
  isBeingWritten(document: LangiumDocument): boolean {
    const place = this.#place;
    if (place?.key !== document.uri.toString()) return false;
    return place.stage === 'typing' || place.blanks.size > 0 || this.#isPartial(document, place);
  }

  /** With a word or a number that ends as it does, the line might be meant to be as it is. */
  #mayBeFinished(): boolean {
    const place = this.#place;
    const document = place && this.#documentOf(place.key);
    if (!place || document === undefined || document.state < DocumentState.Validated) return false;
    const text = document.textDocument.getText();
    const { text: line, start } = lineAround(text, place.cursor);
    const isNumber = /\d$/.test(line.slice(0, place.cursor - start));
    return !isNumber && this.#unfinishedIn(document, place).length === 0;
  }

  #documentOf(key: string): LangiumDocument | undefined {
    return this.#services.workspace.LangiumDocuments.all.find(({ uri }) => uri.toString() === key);
  }

  #blockAt(key: string, offset: number): number | undefined {
    const document = this.#documentOf(key);
    return document && partWrittenAt(document, offset)?.$cstNode?.offset;
  }

  /** Whether a part lacked something before it is written on: one that begins now lacks everything. */
  #wasFragment(key: string, block: number | undefined): boolean {
    const document = this.#documentOf(key);
    if (document === undefined || block === undefined) return true;
    const part = partWrittenAt(document, block + 1);
    return (document.diagnostics ?? []).some((one) => isHeaderOf(part, one, document));
  }
}

/** Whether a line is in a block that came in one piece and has places left to fill in. */
const isInPiece = ({ blanks, piece }: Place, line: number): boolean =>
  blanks.size > 0 && line >= Math.min(...piece) && line <= Math.max(...piece);

const isOfText = ({ code }: Diagnostic): boolean => Object.hasOwn(TEXT_FINDINGS, String(code));

/** Its words without its figures. */
const stillReported = ({ code, message }: Diagnostic): string =>
  `${code} ${String(message).replace(/\d[\d.,]*/g, '#')}`;

/** About the whole of a part, or of a block in it: that it lacks lines, or its end. */
function isHeaderOf(part: Part | undefined, { code, range }: Diagnostic, document: LangiumDocument): boolean {
  if (part?.$cstNode === undefined || (code !== 'missing-value' && code !== 'syntax')) return false;
  const offset = document.textDocument.offsetAt(range.start);
  const inner = part.lines.filter((line) => isRail(line) || isObserved(line) || isRows(line));
  return [part, ...inner].some((block) => {
    const name = 'name' in block && block.name !== undefined ? placeOfFeature(block, 'name').start : undefined;
    return offset === block.$cstNode?.offset || offset === name;
  });
}
