import { sheetHtml, sheetSvg } from '../report/sheet/sheet.ts';
import { sheetData } from '../report/sheet/sheet-data.ts';
import { sheetMarkdown } from '../report/sheet/sheet-markdown.ts';
import { worstOf } from './checked-files.ts';
import { SHEET_FORMATS, type SheetFormat } from './formats.ts';
import { buildNamed, checkedAt } from './named-builds.ts';
import { formatFor, output } from './output.ts';

export interface SheetOptions {
  readonly format?: SheetFormat;
  /** A file instead of standard output. */
  readonly out?: string;
}

/** Prints the sheet of a build, or writes it into a file; returns the exit code. */
export async function sheet(name: string, paths: readonly string[], { format, out }: SheetOptions): Promise<number> {
  const checked = await checkedAt(paths, [name]);
  const data = sheetData(buildNamed(name, checked), checked);
  const print = { html: sheetHtml, markdown: sheetMarkdown, svg: sheetSvg }[formatFor(format, out, SHEET_FORMATS)];
  output(print(data, checked), out);
  return worstOf(checked.failures);
}
