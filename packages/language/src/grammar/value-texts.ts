import { type CstNode, DefaultValueConverter, type GrammarAST, type ValueType } from 'langium';

/** Text stays as it was written, but for strings, without their quotes and with `\"` and `\\` replaced, and operators, in ASCII. */
export class FettleValueConverter extends DefaultValueConverter {
  protected override runConverter(rule: GrammarAST.AbstractRule, input: string, node: CstNode): ValueType {
    if (rule.name === 'STRING') return unquote(input);
    if (rule.name === 'Operator' || rule.name === 'Cell') return ASCII.get(input) ?? input;
    return super.runConverter(rule, input, node);
  }
}

/** What people type or paste for an operator, or for the `-` of an empty cell. */
const ASCII: ReadonlyMap<string, string> = new Map([
  ['≤', '<='],
  ['=<', '<='],
  ['≥', '>='],
  ['=>', '>='],
  ['==', '='],
  ['−', '-'],
  ['–', '-'],
  ['·', '*'],
]);

/** What comes between the quotes; the closing one may be missing. */
export function unquote(image: string): string {
  const end = isClosed(image) ? -1 : undefined;
  return image.slice(1, end).replace(/\\(["\\])/g, '$1');
}

/** A text as it is written: between straight quotes. */
export const quote = (text: string): string => `"${text.replace(/["\\]/g, '\\$&')}"`;

/** Whether a string as written has its closing quote. */
export function isClosed(image: string): boolean {
  return CLOSED.test(image);
}

const CLOSED = /^(?:"(?:[^"\\]|\\.)*"|“(?:[^”"\\]|\\.)*["”]|„(?:[^“”"\\]|\\.)*["“”]|«(?:[^»"\\]|\\.)*["»])$/u;

/** As a text ends its lines. */
export const lineBreakOf = (text: string): string => (text.includes('\r\n') ? '\r\n' : '\n');
