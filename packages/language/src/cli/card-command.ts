import { cardHtml, cardMarkdown, cardText } from '../report/card/card.ts';
import { cardData } from '../report/card/card-data.ts';
import { worstOf } from './checked-files.ts';
import { CARD_FORMATS, type CardFormat } from './formats.ts';
import { buildNamed, checkedAt } from './named-builds.ts';
import { formatFor, output } from './output.ts';

export interface CardOptions {
  /** Files and folders to look in. */
  readonly in: readonly string[];
  readonly format?: CardFormat;
  /** A file instead of standard output. */
  readonly out?: string;
}

/** Prints a page for the field a build, or writes them into a file; returns the exit code. */
export async function card(names: readonly string[], options: CardOptions): Promise<number> {
  const checked = await checkedAt(options.in, names);
  const cards = names.map((name) => cardData(buildNamed(name, checked), checked));
  const format = formatFor(options.format, options.out, CARD_FORMATS);
  output({ text: cardText, markdown: cardMarkdown, html: cardHtml }[format](cards), options.out);
  return worstOf(checked.failures);
}
