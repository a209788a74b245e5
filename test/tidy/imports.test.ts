/** Each package imports only what its own description declares: nothing that another package happens to bring along. */
import { readdirSync, readFileSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');

const packages = readdirSync(join(root, 'packages')).map((name) => `packages/${name}`);

function declaredIn(folder: string): Set<string> {
  const { name, dependencies, devDependencies } = JSON.parse(readFileSync(join(root, folder, 'package.json'), 'utf8'));
  return new Set([name, ...Object.keys(dependencies ?? {}), ...Object.keys(devDependencies ?? {})]);
}

/** `@scope/name/file` and `name/file` are files of a package. */
const packageOf = (specifier: string): string => specifier.split('/', specifier.startsWith('@') ? 2 : 1).join('/');

it.each(packages)('%s declares what it imports', (folder) => {
  // Tools of the whole repository are declared at its root; the editor brings its own module.
  const declared = new Set([...declaredIn(folder), ...declaredIn('.'), 'vscode']);
  const undeclared = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.m?ts$/.test(file) && !/(^|[\\/])(node_modules|dist|out)[\\/]/.test(file))
    .flatMap((file) =>
      [
        ...readFileSync(join(root, folder, file), 'utf8').matchAll(
          /^(?:import|export)[^'"]*?from '([^'.][^']*)'|^import '([^'.][^']*)'/gm,
        ),
      ]
        .map((match) => match[1] ?? match[2] ?? '')
        .filter((specifier) => !isBuiltin(specifier) && !declared.has(packageOf(specifier)))
        .map((specifier) => `${file}: ${specifier}`),
    );
  expect(undeclared).toEqual([]);
});

it('states one version of Node everywhere', () => {
  const read = (file: string) => readFileSync(join(root, file), 'utf8');
  for (const folder of ['.', 'packages/language']) {
    expect(JSON.parse(read(`${folder}/package.json`)).engines.node).toBe('>=20');
  }
  for (const page of [
    'README.md',
    'packages/language/reference/editors.md',
    'packages/language/reference/library.md',
  ]) {
    expect(new Set([...read(page).matchAll(/Node (\d+) or newer/g)].map((match) => match[1]))).toEqual(new Set(['20']));
  }
});
