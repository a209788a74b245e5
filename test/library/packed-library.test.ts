/** The library as others get it: packed, put into an empty project, run by plain Node, and checked by a compiler. Needs the build. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assess, type Files, findings, load, parse, review } from '../../packages/language/src/index.ts';
import { cases } from '../long.ts';

const root = join(import.meta.dirname, '../..');
const language = join(root, 'packages/language');
const page = readFileSync(join(language, 'reference/library.md'), 'utf8');
const block = (sort: string): string => new RegExp(`\`\`\`${sort}\n([\\s\\S]*?)\`\`\``).exec(page)?.[1] ?? '';

const project = mkdtempSync(join(tmpdir(), 'fettle-library-'));
afterAll(() => rmSync(project, { recursive: true, force: true }));

const run = (command: string, ...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(command, args, { cwd: project, encoding: 'utf8' });
  return { status, stdout, stderr };
};

describe('packed, in an empty project', () => {
  beforeAll(() => {
    const packed = spawnSync('npm', ['pack', '--ignore-scripts', '--pack-destination', project], { cwd: language });
    expect(packed.status).toBe(0);
    const [tarball = ''] = readdirSync(project).filter((file) => file.endsWith('.tgz'));
    const home = join(project, 'node_modules/@fettle/language');
    mkdirSync(home, { recursive: true });
    expect(run('tar', '-xzf', tarball, '-C', home, '--strip-components=1').status).toBe(0);
    writeFileSync(join(project, 'package.json'), '{ "type": "module" }\n');
    writeFileSync(join(project, 'example.ts'), block('ts'));
  });

  it('runs the example of its page, and prints what the page shows', () => {
    writeFileSync(join(project, 'example.js'), block('ts'));
    expect(run(process.execPath, 'example.js')).toEqual({ status: 0, stdout: block('text'), stderr: '' });
  });

  it('satisfies a strict compiler without any other types', () => {
    const tsc = join(root, 'node_modules/typescript/bin/tsc');
    const options = [
      '--ignoreConfig',
      '--noEmit',
      '--strict',
      '--exactOptionalPropertyTypes',
      '--noUncheckedIndexedAccess',
    ];
    const target = ['--target', 'es2022', '--module', 'nodenext'];
    writeFileSync(join(project, 'wrong.ts'), "import { assess } from '@fettle/language';\nassess('builds');\n");
    // One run for both: what is wrong with the one is not with the other.
    const { stdout } = run(process.execPath, tsc, ...options, ...target, '--pretty', 'false', 'example.ts', 'wrong.ts');
    expect(stdout).toMatch(/^wrong\.ts\(2,8\): error TS\d+: [^\n]*\n(?: [^\n]*\n)*$/);
  });

  it('needs no other package, and brings the command', () => {
    const { dependencies } = JSON.parse(
      readFileSync(join(project, 'node_modules/@fettle/language/package.json'), 'utf8'),
    );
    expect(dependencies).toBeUndefined();
    const { stdout } = run(process.execPath, 'node_modules/@fettle/language/bin/fettle.js', '--version');
    expect(stdout).toMatch(/^\d+\.\d+\.\d+(\+[0-9a-f]{8}(\.changed)?)?\n$/);
  });

  it('exports what its page names, and no more', async () => {
    const script = "console.log(Object.keys(await import('@fettle/language')).join(' '))";
    const { stdout } = run(process.execPath, '--input-type=module', '--eval', script);
    const reported = [...page.matchAll(/^\| `(\w+)\(/gm)].map(([, name]) => name);
    expect(stdout.trim().split(' ').toSorted()).toEqual(reported.toSorted());
  });
});

describe('the library', () => {
  const examples = join(root, 'examples/builds');

  it('gives the numbers and findings of the command', async () => {
    const some = ['gable', 'spire'].map((name) => join(examples, `${name}.fettle`));
    const paths = cases(0, 1) ? [examples] : some;
    const workspace = await load(paths);
    const command = spawnSync(
      process.execPath,
      [join(language, 'bin/fettle.js'), 'check', ...paths, '--format', 'json'],
      {
        encoding: 'utf8',
        maxBuffer: 64 * 1024 * 1024,
      },
    );
    const printed = JSON.parse(command.stdout);
    const plain = (value: unknown) => JSON.parse(JSON.stringify(value));
    const withoutFiles = (value: unknown) =>
      JSON.parse(JSON.stringify(value, (key, one) => (key === 'file' ? undefined : one)));
    expect(withoutFiles(assess(workspace))).toEqual(withoutFiles(printed.builds));
    expect(withoutFiles(findings(workspace))).toEqual(withoutFiles(printed.findings));
    expect(plain(assess(workspace, { build: 'Gable', pack: 'Eaves1150_3S' }))[0].options).toHaveLength(1);
    expect(workspace.failures).toEqual([]);
    expect(workspace.files).toHaveLength(cases(2, 7));
  });

  const files: Files = {
    'parts/item.fettle': 'item Strap { mass: 3 mm }\n',
    'a.fettle': 'use "parts"\nbuild A { item: Strap\n  item: Strapp',
  };

  it('reads half a file, and reports what is wrong and where', async () => {
    const workspace = await parse(files);
    const found = findings(workspace).map(({ id, file, range }) => `${file}:${range?.start.line} ${id}`);
    expect(found).toContain('parts/item.fettle:1 wrong-dimension');
    expect(found).toContain('a.fettle:3 unknown-name');
    expect(assess(workspace)).toEqual([expect.objectContaining({ name: 'A', options: [] })]);
  });

  it('reports what could not be read, and reads the rest', async () => {
    const workspace = await load([join(examples, 'first.fettle'), join(project, 'nowhere')]);
    expect(workspace.failures).toMatchObject([{ message: 'there is no such file or folder' }]);
    expect(assess(workspace)).toMatchObject([{ name: 'Fledgling' }]);
    const { failures } = await parse({ 'a.fettle': '\0' });
    expect(failures).toEqual([{ path: 'a.fettle', message: expect.stringContaining('not a text file') }]);
  });

  it('refuses slips of its caller by name', async () => {
    await expect(parse({ '../a.fettle': '' })).rejects.toThrow(
      new TypeError('“../a.fettle” is no relative path, such as builds/spire.fettle'),
    );
    await expect(parse({ '/a.fettle': '' })).rejects.toThrow(TypeError);
    for (const odd of [new Map([['a.fettle', '']]), ['a'], null, 'a'])
      await expect(parse(odd as never)).rejects.toThrow('texts are a plain object of paths and texts');
    await expect(parse({ 'a.fettle': 3 as never })).rejects.toThrow('the text of a.fettle is no string');
    expect(() => findings({ files: [], failures: [] })).toThrow('this is no workspace');
    const workspace = await parse(files);
    expect(() => assess(workspace, { build: 'B' })).toThrow(new RangeError('there is no build B'));
    expect(() => assess(workspace, { pack: 'P' })).toThrow(RangeError);
    await expect(review({}, { a: 1 as never })).rejects.toThrow(TypeError);
  });

  it('reviews nothing as nothing', async () => {
    expect(await review(files, files)).toMatchObject({ builds: [], text: [], failures: [] });
  });
});
