/**
 * Reads a recorder's table piece by piece: comma, semicolon or tab between cells, decimal points or commas, lines of other things ahead of the
 * headings, gaps, restarts, damaged rows. Memory does not grow with the table: moments are drawn together when there are too many.
 */
import { isHeading, MOST_PREAMBLE } from './heading.ts';
import {
  cellRowsOf,
  cellsOf,
  countLines,
  delimiterOf,
  EMPTY_CELLS,
  firstLine,
  isNumeric,
  numberInCell,
  timeOfDay,
} from './log-cells.ts';
import type { Damage, Recording, RowDamage } from './recording.ts';

export interface TimeColumn {
  /** Distinguishes two ways of reading. */
  readonly key: string;
  readonly name: string;
  readonly heading?: string | undefined;
  /** s, of one of its unit; undefined: as in the heading. */
  readonly scale: (heading: string) => number | undefined;
  /** Where the table has no headings. */
  readonly position: number;
}

/** s: moments lie no closer. */
const CLOSEST = 0.1;
/** So many are kept at least once there are as many, and twice that at most. */
const FEWEST = 20_000;
/** More are not kept. */
const MOST_COLUMNS = 256;
/** s without a row: what follows is another run. Also where time runs back by more than the jitter of a recorder. */
const PAUSE = 30;
const JITTER = 0.5;
/** Longer than any row: no table. */
const MOST_CHARACTERS_A_LINE = 1_000_000;

export class LogReader {
  readonly #time: TimeColumn;
  #rest = '';
  #line = 0;
  #headings: readonly string[] | undefined;
  #delimiter = ',';
  #timeAt = -1;
  #scale = 1;
  #width = CLOSEST;
  #hash = [0x811c9dc5, 0x1234567];
  #rows = 0;
  #hasClock = false;
  #damaged: Damage<RowDamage> | undefined;
  #strange: (Damage<string> | undefined)[] = [];
  readonly #runs: { from: number; to: number }[] = [];
  #times = new Float64Array(0);
  #counts = new Uint32Array(0);
  #columns: Float32Array[] = [];
  #kept = 0;
  /** The moment that is being filled. */
  #slot = Number.NaN;
  #timeSum = 0;
  #count = 0;
  /** Of the row that is being read, and where its cells begin and end. */
  #values = new Float64Array(0);
  #starts = new Uint32Array(0);
  #ends = new Uint32Array(0);
  #sums = new Float64Array(0);
  #numbers = new Uint32Array(0);
  #last = Number.NaN;
  readonly #preamble: string[] = [];

  constructor(time: TimeColumn) {
    this.#time = time;
  }

  push(piece: string): void {
    this.#addToHash(piece);
    const text = this.#rest + piece;
    const end = Math.max(text.lastIndexOf('\n'), text.lastIndexOf('\r', text.length - 2));
    this.#rest = text.slice(end + 1);
    if (end >= 0) this.#readLines(text.slice(0, text[end - 1] === '\r' ? end - 1 : end));
    if (this.#rest.length > MOST_CHARACTERS_A_LINE) this.#rest = '';
  }

  finish(): Recording {
    if (this.#rest.trim() !== '') this.#readLines(this.#rest);
    this.#rest = '';
    if (this.#headings === undefined) this.#settleHeadings(undefined);
    this.#close();
    const kept = this.#kept;
    return {
      content: this.#hash.map((part) => (part >>> 0).toString(16)).join('-'),
      headings: this.#headings ?? [],
      rows: this.#rows,
      hasClock: this.#hasClock,
      damaged: this.#damaged,
      strange: this.#strange,
      runs: this.#runs.filter(({ from, to }) => to > from),
      width: this.#width,
      times: this.#times.slice(0, kept),
      columns: this.#columns.map((column) => column.slice(0, kept)),
    };
  }

  #addToHash(text: string): void {
    let [one = 0, other = 0] = this.#hash;
    for (let i = 0; i < text.length; i++) {
      const code = text.charCodeAt(i);
      one = Math.imul(one ^ code, 0x01000193);
      other = Math.imul(other, 31) + code;
    }
    this.#hash = [one, other];
  }

  #readLines(text: string): void {
    let body = text;
    while (this.#headings === undefined) {
      const [line, after] = firstLine(body);
      this.#line++;
      this.#preamble.push(this.#line === 1 ? line.replace(/^\uFEFF/, '') : line);
      if (this.#isHeadings(this.#preamble.at(-1) ?? '')) this.#settleHeadings(this.#preamble.length - 1);
      else if (this.#preamble.length >= MOST_PREAMBLE) this.#settleHeadings(undefined);
      if (after === undefined) return;
      body = after;
    }
    this.#readRows(body);
  }

  #isHeadings(line: string): boolean {
    const cells = cellsOf(line, delimiterOf(line));
    return (
      cells.length > 1 && cells.some((cell) => isHeading(cell, this.#time)) && cells.some((cell) => !isNumeric(cell))
    );
  }

  /** @param at of the headings among the first lines; where none is what was looked for, the first line that is no number, or none at all */
  #settleHeadings(at: number | undefined): void {
    const cellsAt = (i: number) => cellsOf(this.#preamble[i] ?? '', delimiterOf(this.#preamble[i] ?? ''));
    const isTable = (cells: readonly string[]) => cells.length > 1;
    const found = at ?? this.#preamble.findIndex((_, i) => isTable(cellsAt(i)));
    const cells = cellsAt(found);
    const isBare = found < 0 || cells.every((cell) => cell.trim() === '' || isNumeric(cell));
    this.#delimiter = delimiterOf(this.#preamble[Math.max(0, found)] ?? '');
    this.#headings = isBare ? [] : cells.slice(0, MOST_COLUMNS).map((cell) => cell.trim());
    const headings = this.#headings;
    this.#timeAt = isBare ? this.#time.position : headings.findIndex((heading) => isHeading(heading, this.#time));
    this.#scale = this.#time.scale(headings[this.#timeAt] ?? '') ?? 1;
    const count = Math.min(MOST_COLUMNS, cells.length);
    this.#strange = Array.from({ length: count });
    this.#values = new Float64Array(count);
    this.#starts = new Uint32Array(count);
    this.#ends = new Uint32Array(count);
    this.#sums = new Float64Array(count);
    this.#numbers = new Uint32Array(count);
    this.#columns = Array.from({ length: count }, () => new Float32Array(0));
    const rest = isBare ? this.#preamble : at === undefined ? this.#preamble.slice(found + 1) : [];
    if (rest.length > 0) {
      this.#line -= rest.length;
      this.#readRows(rest.join('\n'));
    }
    this.#preamble.length = 0;
  }

  #readRows(text: string): void {
    if (this.#timeAt < 0 || text === '') {
      this.#line += text === '' ? 1 : countLines(text);
      return;
    }
    if (text.includes('"') || !text.includes('\n')) {
      for (const cells of cellRowsOf(text, this.#delimiter)) {
        this.#line++;
        this.#readCells(cells);
      }
      return;
    }
    for (let from = 0; from <= text.length; ) {
      const found = text.indexOf('\n', from);
      const end = found < 0 ? text.length : found;
      this.#line++;
      this.#readPlain(text, from, text.charCodeAt(end - 1) === RETURN ? end - 1 : end);
      from = end + 1;
    }
  }

  #readCells(cells: readonly string[]): void {
    for (let i = 0; i < this.#columns.length; i++) this.#values[i] = numberInCell(cells[i] ?? '');
    const wanted = this.#columns.length;
    this.#readRow(cells.length, (i) => (i < wanted ? (cells[i] ?? '') : cells.slice(wanted).join('')));
  }

  /** Without quotes: numbers as written, without a string for each. */
  #readPlain(text: string, from: number, to: number): void {
    const delimiter = this.#delimiter.charCodeAt(0);
    const hasCommas = delimiter !== COMMA;
    let cell = 0;
    for (let i = from; i <= to; i++, cell++) {
      const start = i;
      const isNegative = text.charCodeAt(i) === MINUS;
      if (isNegative) i++;
      let [mantissa, digits, decimals, isPlain] = [0, 0, -1, true];
      for (; i < to; i++) {
        const code = text.charCodeAt(i);
        if (code === delimiter) break;
        if (code >= ZERO && code <= ZERO + 9) {
          mantissa = 10 * mantissa + code - ZERO;
          digits++;
          if (decimals >= 0) decimals++;
        } else if (decimals < 0 && (code === POINT || (hasCommas && code === COMMA))) decimals = 0;
        else isPlain = false;
      }
      if (cell >= this.#values.length) continue;
      this.#starts[cell] = start;
      this.#ends[cell] = i;
      // So many digits are exact, whatever is done with them.
      const value =
        isPlain && digits > 0 && digits <= 15
          ? mantissa / 10 ** Math.max(0, decimals)
          : numberInCell(text.slice(start, i));
      this.#values[cell] = isNegative && isPlain && digits > 0 && digits <= 15 ? -value : value;
    }
    if (cell <= 1 && text.slice(from, to).trim() === '') return;
    this.#readRow(cell, (i) =>
      i < this.#starts.length
        ? text.slice(this.#starts[i], this.#ends[i])
        : text.slice(this.#ends.at(-1), to).replaceAll(this.#delimiter, ''),
    );
  }

  /** @param textOf a cell; behind the last column, of all that is left */
  #readRow(count: number, textOf: (i: number) => string): void {
    const wanted = this.#columns.length;
    if (count <= 1 && textOf(0).trim() === '') return;
    const extra = count - wanted;
    const isWhole = extra === 0 || (extra > 0 && (wanted === MOST_COLUMNS || textOf(wanted).trim() === ''));
    if (!isWhole) {
      this.#damage({ of: 'cells', count, wanted });
      return;
    }
    const number = this.#values[this.#timeAt] ?? Number.NaN;
    if (this.#rows === 0 && Number.isNaN(number)) this.#hasClock = !Number.isNaN(timeOfDay(textOf(this.#timeAt)));
    const time = this.#hasClock ? timeOfDay(textOf(this.#timeAt)) : number * this.#scale;
    if (!Number.isFinite(time)) {
      // Headings are written again where the recorder was started again.
      if (!this.#isHeadings(this.#headings?.map((_, i) => textOf(i)).join(this.#delimiter) ?? ''))
        this.#damage({ of: 'time', cell: textOf(this.#timeAt).trim() });
      return;
    }
    this.#place(time);
    this.#rows++;
    this.#count++;
    this.#timeSum += time;
    for (let i = 0; i < wanted; i++) {
      if (i === this.#timeAt) continue;
      const value = this.#values[i] as number;
      if (Number.isFinite(value)) {
        this.#sums[i] = (this.#sums[i] ?? 0) + value;
        this.#numbers[i] = (this.#numbers[i] ?? 0) + 1;
      } else this.#addStrange(i, textOf(i).trim());
    }
  }

  #addStrange(column: number, cell: string): void {
    if (cell === '' || EMPTY_CELLS.has(cell.toLowerCase())) return;
    const before = this.#strange[column];
    this.#strange[column] = before
      ? { ...before, count: before.count + 1 }
      : { count: 1, line: this.#line, found: cell.slice(0, 40) };
  }

  #damage(found: RowDamage): void {
    this.#damaged = this.#damaged
      ? { ...this.#damaged, count: this.#damaged.count + 1 }
      : { count: 1, line: this.#line, found };
  }

  /** Closes the moment before where the row begins another one. */
  #place(time: number): void {
    const isNew = Number.isNaN(this.#last) || time < this.#last - JITTER || time > this.#last + PAUSE;
    if (isNew) {
      this.#close();
      this.#runs.push({ from: this.#kept, to: this.#kept });
    }
    const slot = this.#slotAt(time);
    if (!isNew && slot !== this.#slot && time >= this.#last) this.#close();
    if (this.#count === 0) this.#slot = slot;
    this.#last = isNew ? time : Math.max(time, this.#last);
  }

  #close(): void {
    if (this.#count === 0) return;
    if (this.#kept === this.#times.length) this.#grow();
    this.#times[this.#kept] = this.#timeSum / this.#count;
    this.#counts[this.#kept] = this.#count;
    for (const [i, column] of this.#columns.entries()) {
      const numbers = this.#numbers[i] ?? 0;
      column[this.#kept] = numbers > 0 ? (this.#sums[i] ?? 0) / numbers : Number.NaN;
    }
    this.#kept++;
    const run = this.#runs.at(-1);
    if (run) run.to = this.#kept;
    this.#sums.fill(0);
    this.#numbers.fill(0);
    this.#timeSum = 0;
    this.#count = 0;
    if (this.#kept >= 2 * FEWEST) this.#drawTogether();
  }

  #grow(): void {
    const length = Math.min(2 * FEWEST, Math.max(1024, 2 * this.#times.length));
    const enlarged = <T extends Float64Array | Float32Array | Uint32Array>(one: T, other: T): T => {
      other.set(one);
      return other;
    };
    this.#times = enlarged(this.#times, new Float64Array(length));
    this.#counts = enlarged(this.#counts, new Uint32Array(length));
    this.#columns = this.#columns.map((column) => enlarged(column, new Float32Array(length)));
  }

  /** Moments twice as far apart; where rows are rarer than that, farther still. */
  #drawTogether(): void {
    while (this.#kept >= 2 * FEWEST - FEWEST / 2) {
      this.#width *= 2;
      let to = 0;
      for (const run of this.#runs) {
        const [from, end] = [run.from, run.to];
        run.from = to;
        for (let i = from; i < end; i++) {
          const isSame = to > run.from && this.#slotOf(to - 1) === this.#slotOf(i);
          if (isSame) this.#merge(to - 1, i);
          else this.#move(to++, i);
        }
        run.to = to;
      }
      this.#kept = to;
    }
    this.#slot = Number.NaN;
  }

  #slotOf(i: number): number {
    return this.#slotAt(this.#times[i] ?? 0);
  }

  /** `0.3 / 0.1` is a little less than 3. */
  #slotAt(time: number): number {
    return Math.floor(time / this.#width + 1e-6);
  }

  #merge(into: number, i: number): void {
    const [a, b] = [this.#counts[into] ?? 0, this.#counts[i] ?? 0];
    const mean = (one: number, other: number) =>
      Number.isNaN(one) ? other : Number.isNaN(other) ? one : (a * one + b * other) / (a + b);
    this.#times[into] = mean(this.#times[into] ?? 0, this.#times[i] ?? 0);
    for (const column of this.#columns) column[into] = mean(column[into] ?? Number.NaN, column[i] ?? Number.NaN);
    this.#counts[into] = a + b;
  }

  #move(to: number, i: number): void {
    if (to === i) return;
    this.#times[to] = this.#times[i] ?? 0;
    this.#counts[to] = this.#counts[i] ?? 0;
    for (const column of this.#columns) column[to] = column[i] ?? Number.NaN;
  }
}

const RETURN = 13;
const COMMA = 44;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
