/** Bundles what runs: the command, the library, and the language server for Node and for a browser's worker. */
import { existsSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type BuildOptions, build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const dist = `${here}dist`;

const common: BuildOptions = {
  bundle: true,
  minify: true,
  keepNames: true,
  legalComments: 'none',
  logLevel: 'warning',
  target: 'es2022',
};

rmSync(dist, { recursive: true, force: true });

// The command and the library are modules and share their code; bundled packages that are not modules still want `require`.
const modules = { cli: `${here}src/cli/main.ts`, index: `${here}src/index.ts` };
await build({
  ...common,
  entryPoints: Object.fromEntries(Object.entries(modules).filter(([, source]) => existsSync(source))),
  outdir: dist,
  chunkNames: 'shared/[name]-[hash]',
  platform: 'node',
  format: 'esm',
  splitting: true,
  banner: { js: `import{createRequire as makeRequire}from'node:module';const require=makeRequire(import.meta.url);` },
});

// One file that runs whether the nearest package.json says "module" or not: an extension ships it on its own.
await build({
  ...common,
  entryPoints: [`${here}src/editor/server-node.ts`],
  outfile: `${dist}/server.js`,
  platform: 'node',
  format: 'cjs',
  banner: {
    js: `import('node:module').then(({createRequire})=>{const require=createRequire(process.execPath),module={exports:{}};`,
  },
  footer: { js: '});' },
});

await build({
  ...common,
  entryPoints: [`${here}src/editor/server-web.ts`],
  outfile: `${dist}/server-web.js`,
  platform: 'browser',
  format: 'iife',
});
