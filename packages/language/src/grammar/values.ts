import type { CstNode, GrammarAST, ValueType } from 'langium';
import { DefaultValueConverter } from 'langium';

/** Text stays as it was written, but for strings: without their quotes, with `\"` and `\\` replaced. */
export class FettleValueConverter extends DefaultValueConverter {
  protected override runConverter(rule: GrammarAST.AbstractRule, input: string, node: CstNode): ValueType {
    return rule.name === 'STRING' ? unquote(input) : super.runConverter(rule, input, node);
  }
}

/** What stands between the quotes; the closing one may be missing. */
export function unquote(image: string): string {
  const end = isClosed(image) ? -1 : undefined;
  return image.slice(1, end).replace(/\\(["\\])/g, '$1');
}

/** Whether a string as written has its closing quote. */
export function isClosed(image: string): boolean {
  return /^"(?:[^"\\]|\\.)*"$/.test(image);
}
