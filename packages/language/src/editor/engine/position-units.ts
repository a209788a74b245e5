/** The unit in which a client counts the characters of a line; the server counts UTF-16 units. */
import { type InitializeParams, PositionEncodingKind } from 'vscode-languageserver-protocol';

const KNOWN: readonly PositionEncodingKind[] = [
  PositionEncodingKind.UTF8,
  PositionEncodingKind.UTF16,
  PositionEncodingKind.UTF32,
];

export class PositionUnits {
  #encoding: PositionEncodingKind = PositionEncodingKind.UTF16;

  /** The first of those that the client prefers; UTF-16 when it states none. */
  choose({ capabilities }: InitializeParams): PositionEncodingKind {
    this.#encoding =
      capabilities.general?.positionEncodings?.find((one) => KNOWN.includes(one)) ?? PositionEncodingKind.UTF16;
    return this.#encoding;
  }

  get areOurs(): boolean {
    return this.#encoding === PositionEncodingKind.UTF16;
  }

  /** The number of the client's units in a piece of text. */
  in(text: string): number {
    if (this.areOurs) return text.length;
    let count = 0;
    for (const character of text) count += this.#of(character);
    return count;
  }

  /** The number of UTF-16 units for a number of the client's units; whole characters only. */
  upTo(text: string, counted: number): number {
    if (this.areOurs) return Math.min(counted, text.length);
    let left = counted;
    let units = 0;
    for (const character of text) {
      left -= this.#of(character);
      if (left < 0) break;
      units += character.length;
    }
    return units;
  }

  #of(character: string): number {
    if (this.#encoding === PositionEncodingKind.UTF32) return 1;
    const code = character.codePointAt(0) ?? 0;
    return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
  }
}
