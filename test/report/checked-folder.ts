/** The examples in a folder of their own, and what outputs print of them, in the test's process: as the command does it from this folder. */
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { URI } from 'langium';
import pc from 'picocolors';
import { checkPaths } from '../../packages/language/src/cli/check-command.ts';
import { exitCode } from '../../packages/language/src/cli/checked-files.ts';
import { CHECK_PRINTERS, type CheckFormat } from '../../packages/language/src/cli/formats.ts';
import { buildNamed } from '../../packages/language/src/cli/named-builds.ts';
import { cardHtml, cardMarkdown, cardText } from '../../packages/language/src/report/card/card.ts';
import { cardData } from '../../packages/language/src/report/card/card-data.ts';
import type { Checked } from '../../packages/language/src/report/checked.ts';
import { type Recorded, recorded } from '../../packages/language/src/report/formats/record.ts';
import { sheetHtml, sheetSvg } from '../../packages/language/src/report/sheet/sheet.ts';
import { sheetData } from '../../packages/language/src/report/sheet/sheet-data.ts';
import { sheetMarkdown } from '../../packages/language/src/report/sheet/sheet-markdown.ts';

const SHEETS = { html: sheetHtml, markdown: sheetMarkdown, svg: sheetSvg };
const CARDS = { html: cardHtml, markdown: cardMarkdown, text: cardText };

export class CheckedFolder {
  readonly folder = mkdtempSync(join(tmpdir(), 'fettle-checked-'));
  /** By their paths, until a file in one of their folders is written: what many outputs print is computed once. */
  readonly #known = new Map<string, Promise<Checked>>();

  constructor() {
    cpSync(join(import.meta.dirname, '../../examples'), join(this.folder, 'examples'), { recursive: true });
  }

  write(path: string, text: string): void {
    const [folder = ''] = path.split('/');
    for (const key of this.#known.keys()) if (key.includes(`"${folder}`)) this.#known.delete(key);
    const full = join(this.folder, path);
    mkdirSync(dirname(full), { recursive: true });
    writeFileSync(full, text);
  }

  checked(...paths: string[]): Promise<Checked> {
    const key = JSON.stringify(paths);
    const known = this.#known.get(key) ?? this.checkedAnew(...paths);
    this.#known.set(key, known);
    return known;
  }

  /** Whatever is known of these paths. */
  async checkedAnew(...paths: string[]): Promise<Checked> {
    const checked = await checkPaths(paths.map((path) => join(this.folder, path)));
    return {
      ...checked,
      failures: checked.failures.map(({ path, message }) => ({ path: relative(this.folder, path), message })),
      pathOf: (uri) => relative(this.folder, URI.parse(uri).fsPath),
    };
  }

  /** As `fettle check --format …` prints it. */
  async print(format: CheckFormat, ...paths: string[]): Promise<string> {
    return printed(format, await this.checked(...paths));
  }

  async code(...paths: string[]): Promise<number> {
    return exitCode(await this.checked(...paths), 'error');
  }

  async sheet(format: keyof typeof SHEETS, build: string, ...paths: string[]): Promise<string> {
    return sheetOf(format, build, await this.checked(...paths));
  }

  async card(format: keyof typeof CARDS, build: string, ...paths: string[]): Promise<string> {
    const checked = await this.checked(...paths);
    return CARDS[format]([cardData(buildNamed(build, checked), checked)]);
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}

export const sheetOf = (format: keyof typeof SHEETS, build: string, checked: Checked): string =>
  SHEETS[format](sheetData(buildNamed(build, checked), checked), checked);

export function printed(format: CheckFormat, checked: Checked): Promise<string> {
  const records: Recorded = recorded(checked, format === 'json' ? 'results' : 'headlines');
  return CHECK_PRINTERS[format].print(records, { failOn: 'error', colors: pc.createColors(false) });
}
