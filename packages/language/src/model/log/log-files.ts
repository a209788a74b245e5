/**
 * Logs next to the text, each read once for as long as it does not change. A long one takes seconds: where somebody is typing it is read
 * in pieces meanwhile, and the caller is notified when it is there.
 */
import type { LangiumDocument, URI } from 'langium';
import type { Located, Openings } from '../../resolve/openings.ts';
import { remembered } from '../../syntax/memory.ts';
import { LogReader, type TimeColumn } from './log-reader.ts';
import type { Recording } from './recording.ts';

export type LogFile =
  | { readonly recording: Recording }
  | { readonly failed: 'missing' | 'unreadable' | 'unknown' | 'too-long' }
  | { readonly failed: 'outside'; readonly root: string }
  /** It will be there soon. */
  | { readonly failed: 'reading' };

/** Bytes. */
export const LONGEST_LOG = 64e6;
/** Bytes that are read at once although somebody may be typing. */
const SHORT = 512e3;
/** More than this stay only while a document rests on each. */
const MOST_KEPT = 32;

/** Of a workspace. */
export function logFilesOf(openings: Openings): LogFiles {
  const known = made.get(openings) ?? new LogFiles(openings);
  made.set(openings, known);
  return known;
}

const made = new WeakMap<Openings, LogFiles>();

/** What a document requested since it was last linked, and between that and the time before: half of a new round is still to come. */
interface Requested {
  readonly now: Set<string>;
  readonly before: ReadonlySet<string>;
}

interface Kept {
  readonly version: string;
  readonly recording: Recording | undefined;
}

export class LogFiles {
  /** Called with a file that was read meanwhile. Without it every file is read at once. */
  whenRead: ((file: URI) => void) | undefined;
  readonly #openings: Openings;
  readonly #kept = new Map<string, Kept>();
  /** By document. */
  readonly #requested = new Map<string, Requested>();
  readonly #requestedNow = remembered((_: LangiumDocument) => new Set<string>());
  readonly #underWay = new Set<string>();

  constructor(openings: Openings) {
    this.#openings = openings;
  }

  read(document: LangiumDocument, path: string, time: TimeColumn): LogFile {
    const located = this.#openings.locate(document, path);
    if ('failed' in located) return located;
    try {
      const key = `${located.file.toString()} ${time.key}`;
      this.#request(document, key);
      return this.#recordingOf(located, key, time);
    } catch {
      return { failed: 'unreadable' };
    }
  }

  #request(document: LangiumDocument, key: string): void {
    const uri = document.uri.toString();
    const now = this.#requestedNow(document);
    const known = this.#requested.get(uri);
    if (known?.now !== now) this.#requested.set(uri, { now, before: known?.now ?? new Set() });
    now.add(key);
  }

  #recordingOf({ file, size, version }: Located, key: string, time: TimeColumn): LogFile {
    if (size > LONGEST_LOG) return { failed: 'too-long' };
    const known = this.#kept.get(key);
    if (known?.version === version) return known.recording ? { recording: known.recording } : { failed: 'unreadable' };
    if (this.whenRead === undefined || size <= SHORT) {
      const reader = new PieceReader(time);
      for (const piece of this.#openings.piecesOf(file)) reader.push(piece);
      return { recording: this.#keep(key, version, reader.finish()) };
    }
    if (!this.#underWay.has(key)) {
      this.#underWay.add(key);
      void this.#readMeanwhile(key, file, version, time);
    }
    return { failed: 'reading' };
  }

  async #readMeanwhile(key: string, file: URI, version: string, time: TimeColumn): Promise<void> {
    try {
      const reader = new PieceReader(time);
      for await (const piece of this.#openings.piecesOfMeanwhile(file)) reader.push(piece);
      this.#keep(key, version, reader.finish());
    } catch {
      this.#kept.set(key, { version, recording: undefined });
    } finally {
      this.#underWay.delete(key);
      this.whenRead?.(file);
    }
  }

  /** What is read again and is the same stays the same object: nothing rests on it anew. */
  #keep(key: string, version: string, recording: Recording): Recording {
    const before = this.#kept.get(key)?.recording;
    const same = before?.content === recording.content ? before : recording;
    this.#kept.delete(key);
    if (this.#kept.size >= MOST_KEPT) this.#dropUnused();
    this.#kept.set(key, { version, recording: same });
    return same;
  }

  /** What is dropped although it is in use is read again, and what rests on it is checked again, without end. */
  #dropUnused(): void {
    for (const uri of this.#requested.keys()) if (!this.#openings.isThere(uri)) this.#requested.delete(uri);
    const used = new Set([...this.#requested.values()].flatMap(({ now, before }) => [...now, ...before]));
    for (const key of this.#kept.keys()) if (!used.has(key)) this.#kept.delete(key);
  }
}

/** Bytes as text: UTF-8, or UTF-16 with its mark. */
class PieceReader {
  readonly #reader: LogReader;
  #decoder: InstanceType<typeof TextDecoder> | undefined;

  constructor(time: TimeColumn) {
    this.#reader = new LogReader(time);
  }

  push(piece: Uint8Array | string): void {
    if (typeof piece === 'string') {
      this.#reader.push(piece);
      return;
    }
    this.#decoder ??= decoderOf(piece);
    this.#reader.push(this.#decoder.decode(piece, { stream: true }));
  }

  finish(): Recording {
    this.#reader.push(this.#decoder?.decode() ?? '');
    return this.#reader.finish();
  }
}

/** By the mark at the beginning of a file. */
export const decoderOf = ([first, second]: Uint8Array): InstanceType<typeof TextDecoder> =>
  new TextDecoder(UTF_16[`${first} ${second}`] ?? 'utf-8');

const UTF_16: Readonly<Record<string, string>> = { '255 254': 'utf-16le', '254 255': 'utf-16be' };
