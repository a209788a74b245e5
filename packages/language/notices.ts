/** Whose work a bundle contains, with the licence texts that must travel with it. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Metafile } from 'esbuild';

/** Folders of the packages that contribute code to what esbuild wrote, seen from `base`, where it ran. */
export function packageFolders(base: string, ...metafiles: readonly Metafile[]): readonly string[] {
  const inputs = metafiles.flatMap(({ outputs }) =>
    Object.values(outputs).flatMap((output) =>
      Object.entries(output.inputs).flatMap(([path, { bytesInOutput }]) => (bytesInOutput > 0 ? [path] : [])),
    ),
  );
  // The innermost: a package inside of another one's folder has its own licence.
  const folders = inputs.flatMap((path) => /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0] ?? []);
  return [...new Set(folders.map((folder) => resolve(base, folder)))].sort();
}

/**
 * The text of THIRD-PARTY-NOTICES.
 * @throws Error for a package without a licence text: then it must not be shipped.
 */
export function noticesOf(folders: readonly string[]): string {
  const parts = new Map<string, string>();
  for (const folder of folders) {
    const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
    const texts = readdirSync(folder)
      .filter((file) => /^(licen[cs]e|copying|notice|third-?party-?notices)\b/i.test(file))
      .sort()
      .map((file) => readFileSync(join(folder, file), 'utf8').replaceAll('\r\n', '\n').trim());
    if (texts.length === 0) throw new Error(`${name} ${version} is bundled, and has no licence text in ${folder}`);
    parts.set(`${name} ${version}`, `${name} ${version} (${license})\n\n${texts.join('\n\n')}`);
  }
  const line = '-'.repeat(80);
  const listed = [...parts].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, text]) => text);
  return `This package contains the work of others, under these licences.\n\n${line}\n\n${listed.join(`\n\n${line}\n\n`)}\n`;
}
