/** `fettle site`: writes the pages, and takes away those of an earlier run that are not of this one. */
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve, sep } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { type SiteFile, siteFiles } from '../report/site/site.ts';
import { isOfLibrary, siteData } from '../report/site/site-data.ts';
import { plural } from '../vocabulary/phrasing.ts';
import { loadPaths } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices } from '../workspace/services.ts';
import { checkLoaded } from './checked-files.ts';
import { COULD_NOT_RUN, complain, notWritten, Refusal } from './refuse.ts';
import { progressOn } from './terminal-progress.ts';

export interface SiteCommandOptions {
  readonly title?: string;
  /** Address of the page to try a build on. */
  readonly try?: string;
}

/** Names the pages that a run wrote: only those are ever taken away. */
const LIST = '.fettle-site';

/** @returns the exit code */
export async function site(out: string, paths: readonly string[], options: SiteCommandOptions): Promise<number> {
  const { try: tryPage } = options;
  if (tryPage !== undefined && !/^(?:https?:|\.{0,2}\/)/i.test(tryPage))
    throw new Refusal(`--try ${tryPage}: state an address that begins with https: or a path`);
  const folder = resolve(out);
  const earlier = earlierPages(folder, out);
  const progress = progressOn(process.stderr);
  try {
    const services = createFettleServices(NodeFileSystem);
    const loaded = await loadPaths(services, paths);
    const { LangiumDocuments } = services.shared.workspace;
    const shown = [...LangiumDocuments.all]
      .filter((document) => !isOfLibrary(document))
      .sort((a, b) => (a.uri.toString() < b.uri.toString() ? -1 : 1));
    const checked = checkLoaded(services, loaded, progress);
    for (const { path, message } of checked.failures) complain(`${path}: ${message}`);
    const data = siteData(shown, services.shared.workspace.IndexManager);
    const files = siteFiles(checked, data, {
      title: options.title ?? 'Our craft',
      ...(tryPage !== undefined && { tryLink: (texts, open) => linkTo(tryPage, texts, open) }),
    });
    const written = new Set<string>();
    for (const file of files) {
      progress.step('writing pages', written.size);
      write(folder, file);
      written.add(file.path);
    }
    for (const path of earlier) if (!written.has(path)) rmSync(join(folder, path), { force: true });
    write(folder, { path: LIST, text: `${[...written].sort().join('\n')}\n` });
    progress.end();
    process.stdout.write(
      `${plural(checked.builds.length, 'build')} on ${plural(written.size, 'file')} in ${out}: open ${join(out, 'index.html')}\n`,
    );
    return checked.failures.length > 0 || checked.files === 0 ? COULD_NOT_RUN : 0;
  } finally {
    progress.end();
  }
}

/** @throws Refusal for a folder with something else in it: nothing of anybody is overwritten. */
function earlierPages(folder: string, out: string): readonly string[] {
  if (!existsSync(folder)) return [];
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch (error) {
    throw notWritten(out, error);
  }
  if (names.length === 0) return [];
  if (!names.includes(LIST)) {
    throw new Refusal(`${out} has files that are not of a site: state a new or an empty folder`);
  }
  return readFileSync(join(folder, LIST), 'utf8')
    .split('\n')
    .filter((path) => path !== '' && resolve(folder, path).startsWith(folder + sep));
}

function write(folder: string, { path, text }: SiteFile): void {
  const file = join(folder, path);
  try {
    mkdirSync(dirname(file), { recursive: true });
    // Whoever can put a link into the folder must not have pages written elsewhere.
    if (realpathSync(dirname(file)) !== join(realpathSync(folder), dirname(path)))
      throw new Refusal(`${join(folder, dirname(path))} is a link: pages are written into folders only`);
    if (lstatSync(file, { throwIfNoEntry: false })?.isSymbolicLink())
      throw new Refusal(`${file} is a link: pages are written into files only`);
    writeFileSync(file, text);
  } catch (error) {
    throw error instanceof Refusal ? error : notWritten(file, error);
  }
}

/** Longer addresses are cut on their way. */
const LONGEST_LINK = 60_000;

/** As the page to try reads it (`packages/playground/src/link.ts`). */
function linkTo(page: string, texts: ReadonlyMap<string, string>, open: string): string | undefined {
  const json = JSON.stringify({ files: Object.fromEntries(texts), open });
  const link = `#1.${deflateRawSync(json, { level: 9 }).toString('base64url')}`;
  return link.length > LONGEST_LINK ? undefined : page.replace(/#.*$/, '') + link;
}
