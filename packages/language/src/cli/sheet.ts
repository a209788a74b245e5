import { writeFileSync } from 'node:fs';
import { sheetHtml, sheetMarkdown, sheetSvg } from '../report/sheet.ts';
import { sheetData } from '../report/sheet-data.ts';
import { buildNamed, checkedAt } from './builds.ts';
import { Refusal } from './refuse.ts';

export interface SheetOptions {
  readonly format: 'html' | 'markdown' | 'svg';
  /** A file instead of standard output. */
  readonly out?: string;
}

/** Prints the sheet of a build, or writes it into a file. */
export async function sheet(name: string, paths: readonly string[], { format, out }: SheetOptions): Promise<void> {
  const checked = await checkedAt(paths);
  const data = sheetData(buildNamed(name, checked), checked);
  const text = { html: sheetHtml, markdown: sheetMarkdown, svg: sheetSvg }[format](data, checked);
  output(text, out);
}

/** To where it was asked, and nowhere else. */
export function output(text: string, file: string | undefined): void {
  if (file === undefined) {
    process.stdout.write(text);
    return;
  }
  try {
    writeFileSync(file, text);
  } catch (error) {
    throw new Refusal(`${file} cannot be written: ${error instanceof Error ? error.message : String(error)}`);
  }
}
