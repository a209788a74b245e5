import { chmodSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { referenceProblems } from '../../packages/language/src/checks/text/name-problems.ts';
import { MAX_CHARACTERS } from '../../packages/language/src/grammar/guard.ts';
import { loadPaths } from '../../packages/language/src/workspace/load-paths.ts';
import { NodeFiles } from '../../packages/language/src/workspace/node-files.ts';
import { createFettleServices } from '../../packages/language/src/workspace/services.ts';

const folders: string[] = [];

/** A folder on disk with these files. */
function folderWith(texts: Readonly<Record<string, string | Uint8Array>>): string {
  const root = mkdtempSync(join(tmpdir(), 'fettle-'));
  folders.push(root);
  for (const [path, text] of Object.entries(texts)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text);
  }
  return root;
}

afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** Loads and shows the result with paths from the folder on. */
async function load(root: string, paths: readonly string[], files = new NodeFiles()) {
  const services = createFettleServices({ fileSystemProvider: () => files });
  const given = paths.map((path) => join(root, path));
  const { documents, failures } = await loadPaths(services, given);
  const short = (path: string) => resolve(path).slice(root.length);
  return {
    documents: documents.map((document) => short(document.uri.path)),
    failures: failures.map(({ path, message }) => `${short(path)}: ${message}`),
    problems: documents.flatMap(referenceProblems).map(({ message }) => message),
  };
}

const GOOD = {
  'parts/m.fettle': 'motor M1 { }',
  'parts/p.fettle': 'propeller P1 { }',
  'builds/a.fettle': 'use "../parts"\nbuild A { motors: 4 x M1 with P1 }',
  'builds/own.fettle': 'load Cam { }',
  'builds/b.fettle': 'build B { load: Cam }',
};

describe('loading paths', () => {
  it('takes folders with their subfolders, but neither hidden ones nor node_modules', async () => {
    const root = folderWith({ ...GOOD, '.hidden/x.fettle': '', 'node_modules/p/y.fettle': '', 'builds/notes.txt': '' });
    const { documents, failures, problems } = await load(root, ['.']);
    expect(documents).toEqual([
      '/builds/a.fettle',
      '/builds/b.fettle',
      '/builds/own.fettle',
      '/parts/m.fettle',
      '/parts/p.fettle',
    ]);
    expect(failures).toEqual([]);
    expect(problems).toEqual([]);
  });

  it('loads what a file needs, without making it part of the result', async () => {
    const root = folderWith(GOOD);
    expect(await load(root, ['builds/a.fettle'])).toEqual({
      documents: ['/builds/a.fettle'],
      failures: [],
      problems: [],
    });
    expect(await load(root, ['builds/b.fettle'])).toEqual({
      documents: ['/builds/b.fettle'],
      failures: [],
      problems: [],
    });
  });

  it('follows what the opened files need in turn, and packages of parts', async () => {
    const root = folderWith({
      'node_modules/@barn/parts/m.fettle': 'use "../base"\nmotor M1 like M0 { }',
      'node_modules/@barn/base/m.fettle': 'motor M0 { }',
      'x/a.fettle': 'use "@barn/parts"\nbuild A { motors: 4 x M1 }',
    });
    expect(await load(root, ['x/a.fettle'])).toEqual({ documents: ['/x/a.fettle'], failures: [], problems: [] });
  });

  it('takes a path that is given twice once', async () => {
    const root = folderWith(GOOD);
    expect((await load(root, ['parts', 'parts/m.fettle', 'parts'])).documents).toEqual([
      '/parts/m.fettle',
      '/parts/p.fettle',
    ]);
  });
});

describe('what cannot be loaded', () => {
  it('gets one clear message each; the others are loaded', async () => {
    const root = folderWith({
      ...GOOD,
      'bad/binary.fettle': new Uint8Array([0x66, 0, 0x66]),
      'bad/latin.fettle': new Uint8Array([0x6d, 0xe4, 0x6f]),
      'bad/large.fettle': 'x'.repeat(50_000_000),
      'bad/long.fettle': ' '.repeat(MAX_CHARACTERS + 1),
      'bad/good.fettle': 'item Good { }',
      'bad/readme.txt': 'hello',
    });
    const { documents, failures } = await load(root, ['bad', 'nowhere', 'nowhere.fettle', 'bad/readme.txt', 'builds']);
    expect(documents).toEqual(['/bad/good.fettle', '/builds/a.fettle', '/builds/b.fettle', '/builds/own.fettle']);
    expect(failures.sort()).toEqual([
      '/bad/binary.fettle: this is not a text file; if it is one, save it as UTF-8',
      `/bad/large.fettle: this file is too large (50 MB); at most ${MAX_CHARACTERS / 1e6} million characters are read`,
      '/bad/latin.fettle: this is not a text file; if it is one, save it as UTF-8',
      `/bad/long.fettle: this file is too large (${(MAX_CHARACTERS / 1e6).toFixed(1)} MB); at most ${MAX_CHARACTERS / 1e6} million characters are read`,
      '/bad/readme.txt: this is not a .fettle file',
      '/nowhere.fettle: there is no such file or folder',
      '/nowhere: there is no such file or folder',
    ]);
  });

  it('reports files that are only needed, and keeps names that depend on them silent', async () => {
    const root = folderWith({
      ...GOOD,
      'club/c.fettle': new Uint8Array([0]),
      'builds/c.fettle': 'use "../club/c.fettle"\nbuild C { load: X }',
    });
    const { documents, failures, problems } = await load(root, ['builds/c.fettle']);
    expect(documents).toEqual(['/builds/c.fettle']);
    expect(failures).toEqual(['/club/c.fettle: this is not a text file; if it is one, save it as UTF-8']);
    expect(problems).toEqual(['../club/c.fettle opens nothing: it cannot be read']);
  });

  it('survives files and folders that may not be read, or go meanwhile', async () => {
    const root = folderWith({ ...GOOD, 'locked/x.fettle': 'load X { }', 'secret/y.fettle': 'load Y { }' });
    // Somebody who may read everything (root) would not notice permissions, so the file system states what it would state.
    class Refusing extends NodeFiles {
      override readBinarySync(uri: Parameters<NodeFiles['readBinarySync']>[0]): Uint8Array {
        if (uri.path.endsWith('m.fettle')) rmSync(uri.fsPath);
        if (uri.path.endsWith('x.fettle')) throw Object.assign(new Error('no permission'), { code: 'EACCES' });
        return super.readBinarySync(uri);
      }

      override readDirectorySync(uri: Parameters<NodeFiles['readDirectorySync']>[0]) {
        if (uri.path.endsWith('secret')) throw Object.assign(new Error('no permission'), { code: 'EACCES' });
        return super.readDirectorySync(uri);
      }
    }
    chmodSync(join(root, 'locked/x.fettle'), 0);
    const { documents, failures } = await load(root, ['.'], new Refusing());
    expect(documents).toEqual(['/builds/a.fettle', '/builds/b.fettle', '/builds/own.fettle', '/parts/p.fettle']);
    expect(failures.sort()).toEqual([
      '/locked/x.fettle: there is no permission to read it',
      '/parts/m.fettle: it went while it was being read, or is a link to nothing',
      '/secret: there is no permission to read it',
    ]);
  });

  it('follows links, once each, and never in circles', async () => {
    const root = folderWith(GOOD);
    symlinkSync('..', join(root, 'builds/up'));
    symlinkSync('self', join(root, 'builds/self'));
    symlinkSync('nothing.fettle', join(root, 'builds/dead.fettle'));
    symlinkSync('../parts', join(root, 'builds/linked'));
    // The repository is the workspace: a link within it is followed.
    mkdirSync(join(root, '.git'));
    const all = await load(root, ['.']);
    expect(all.documents).toHaveLength(5);
    expect(all.failures).toEqual(['/builds/dead.fettle: it went while it was being read, or is a link to nothing']);
    writeFileSync(join(root, 'builds/z.fettle'), 'use "linked"\nbuild Z { motors: 4 x M1 with P1 }');
    expect((await load(root, ['builds/z.fettle'])).problems).toEqual([]);
  });
});
