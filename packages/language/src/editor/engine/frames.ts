/**
 * Messages between a client and the server as they come over a stream. The library behind us loses its place in the stream for ever when a
 * header states a wrong length, and hands on requests that come before `initialize`, which then wait for ever: here the place is found
 * again, and such requests are refused, as the protocol requires.
 */

import { Transform, type TransformCallback, type Writable } from 'node:stream';
import { membersOf } from '../../units/lookup-table.ts';

/** Of the protocol: JSON-RPC's "parse error", and "server not initialized". */
const PARSE_ERROR = -32700;
const NOT_INITIALIZED = -32002;

const HEADER = /Content-Length: *(\d+)[^\r\n]*\r\n(?:[^\r\n]+\r\n)*\r\n/i;
const HEADER_START = 'Content-Length:';

/** A header that is not at its end after so much is none. */
const LONGEST_HEADER = 4096;

export class Frames extends Transform {
  #buffer = Buffer.alloc(0);
  #isInitialized = false;
  readonly #answers: Writable;

  /** @param answers where refusals are written: the stream that the server's own answers go to */
  constructor(answers: Writable) {
    super();
    this.#answers = answers;
  }

  override _transform(chunk: Buffer, _: BufferEncoding, done: TransformCallback): void {
    this.#buffer = Buffer.concat([this.#buffer, chunk]);
    for (let next = this.#takeFrame(); next !== undefined; next = this.#takeFrame()) this.#pass(next);
    done();
  }

  /** The next whole body; undefined while there is none. */
  #takeFrame(): Buffer | undefined {
    for (;;) {
      const start = this.#buffer.subarray(0, LONGEST_HEADER).toString('latin1');
      const header = HEADER.exec(start);
      if (!header) {
        if (this.#buffer.length < LONGEST_HEADER) return undefined;
        this.#skipTo(1);
        continue;
      }
      const from = header.index + header[0].length;
      const to = from + Number(header[1]);
      // A body that reports a header in its midst was announced too long: nobody waits for its end.
      const inside = this.#buffer.subarray(from, Math.min(to, this.#buffer.length)).indexOf(`\r\n${HEADER_START}`);
      const early = this.#startsWithin(from, Math.min(to, this.#buffer.length));
      if (early !== undefined || inside >= 0) {
        this.#skipTo(early ?? from + inside + 2);
        this.#refuse(null, PARSE_ERROR, 'a message is not as long as its header states');
        continue;
      }
      if (this.#buffer.length < to) return undefined;
      const body = this.#buffer.subarray(from, to);
      if (isJson(body)) {
        this.#buffer = this.#buffer.subarray(to);
        return body;
      }
      this.#skipTo(from);
      this.#refuse(null, PARSE_ERROR, 'a message is not as long as its header states, or is no JSON');
    }
  }

  /** Where another header begins right behind a whole message, though the length stated would reach beyond. */
  #startsWithin(from: number, to: number): number | undefined {
    for (
      let at = this.#buffer.indexOf(HEADER_START, from);
      at >= 0 && at < to;
      at = this.#buffer.indexOf(HEADER_START, at + 1)
    )
      if (isJson(this.#buffer.subarray(from, at))) return at;
    return undefined;
  }

  /** Drops what is before the next header that begins there or later; keeps what may be the beginning of one. */
  #skipTo(from: number): void {
    const next = this.#buffer.indexOf(HEADER_START, from);
    this.#buffer = this.#buffer.subarray(next >= 0 ? next : Math.max(from, this.#buffer.length - HEADER_START.length));
  }

  #pass(body: Buffer): void {
    if (!this.#isInitialized) {
      const { id, method } = membersOf(JSON.parse(body.toString('utf8')));
      if (method === 'initialize') this.#isInitialized = true;
      else if (method !== 'exit') {
        if (id !== undefined && method !== undefined) this.#refuse(id, NOT_INITIALIZED, 'initialize comes first');
        return;
      }
    }
    this.push(Buffer.concat([Buffer.from(`Content-Length: ${body.length}\r\n\r\n`), body]));
  }

  #refuse(id: unknown, code: number, message: string): void {
    const answer = Buffer.from(JSON.stringify({ jsonrpc: '2.0', id, error: { code, message } }));
    this.#answers.write(Buffer.concat([Buffer.from(`Content-Length: ${answer.length}\r\n\r\n`), answer]));
  }
}

function isJson(body: Buffer): boolean {
  try {
    JSON.parse(body.toString('utf8'));
    return true;
  } catch {
    return false;
  }
}
