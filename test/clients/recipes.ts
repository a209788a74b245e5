/** Set-ups as the reference page has them, and a folder in which an editor runs with one of them. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const RECIPES = fileURLToPath(new URL('../../packages/language/reference/editors.md', import.meta.url));
const COMMAND = fileURLToPath(new URL('../../packages/language/bin/fettle.js', import.meta.url));

/** What is written under the heading of an editor, as it is written. */
export function recipeOf(editor: string, language: string): string {
  const page = readFileSync(RECIPES, 'utf8');
  const [, section = ''] = new RegExp(`^## ${editor}\n([\\s\\S]*?)(?=^## |$(?![\\s\\S]))`, 'm').exec(page) ?? [];
  const [, recipe] = new RegExp(`\`\`\`${language}\n([\\s\\S]*?)\`\`\``).exec(section) ?? [];
  if (recipe === undefined) throw new Error(`the page has no ${language} for ${editor}`);
  return recipe;
}

/** A home of its own with files in it, and the command on its path. */
export class Home implements Disposable {
  readonly folder = mkdtempSync(join(tmpdir(), 'fettle-client-'));
  readonly env: NodeJS.ProcessEnv;

  constructor(files: Readonly<Record<string, string>>) {
    const command = `#!/bin/sh\nexec "${process.execPath}" "${COMMAND}" "$@"\n`;
    for (const [path, text] of Object.entries({ ...files, 'bin/fettle': command })) {
      mkdirSync(dirname(join(this.folder, path)), { recursive: true });
      writeFileSync(join(this.folder, path), text, { mode: path === 'bin/fettle' ? 0o755 : 0o644 });
    }
    this.env = {
      ...process.env,
      HOME: this.folder,
      TERM: 'xterm',
      PATH: `${join(this.folder, 'bin')}:${process.env.PATH}`,
      FETTLE_OUT: join(this.folder, 'seen.json'),
      // Logs and states belong to this run.
      XDG_CONFIG_HOME: join(this.folder, '.config'),
      XDG_STATE_HOME: this.folder,
      XDG_CACHE_HOME: this.folder,
      XDG_DATA_HOME: this.folder,
    };
  }

  /** What the editor has written about what it shows. */
  seen<T>(): T {
    return JSON.parse(readFileSync(join(this.folder, 'seen.json'), 'utf8')) as T;
  }

  [Symbol.dispose](): void {
    rmSync(this.folder, { recursive: true, force: true, maxRetries: 5 });
  }
}
