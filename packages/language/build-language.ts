/** Bundles what runs: the command, the library, and the language server. */
import { copyFileSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type BuildOptions, build } from 'esbuild';
import ts from 'typescript';
import { commitOf } from './commit.ts';
import { noticesOf, packageFolders } from './notices.ts';
import { CHOICE_STYLE } from './src/report/decide/choice-sections.ts';
import { CHART_STYLE } from './src/report/present/chart.ts';
import { CONTENT_STYLE } from './src/report/present/page.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
const dist = `${here}dist`;

/** Bundles that a debugger can follow. */
const DEBUG = process.env.FETTLE_DEBUG === '1';

const common: BuildOptions = {
  bundle: true,
  minify: !DEBUG,
  sourcemap: DEBUG && 'inline',
  legalComments: 'none',
  logLevel: 'warning',
  absWorkingDir: here,
  define: { FETTLE_COMMIT: JSON.stringify(commitOf(here) ?? '') },
  target: 'es2022',
};

// The command, its threads and the library are modules and share their code; bundled packages that are not modules still want `require`.
const modules = {
  cli: `${here}src/cli/main.ts`,
  'check-worker': `${here}src/cli/check-worker.ts`,
  'choose-worker': `${here}src/cli/choose-worker.ts`,
  index: `${here}src/index.ts`,
  'server-node': `${here}src/editor/server-node.ts`,
};
const { metafile } = await build({
  ...common,
  metafile: true,
  entryPoints: modules,
  outdir: dist,
  // Next to the command, so that what a piece finds relative to itself does not depend on how it was cut.
  chunkNames: 'part-[name]-[hash]',
  platform: 'node',
  format: 'esm',
  splitting: true,
  banner: { js: `import{createRequire as makeRequire}from'node:module';const require=makeRequire(import.meta.url);` },
});

// Pieces of earlier builds go last: what runs meanwhile keeps running.
const written = new Set(Object.keys(metafile.outputs).map((path) => basename(path)));
for (const file of readdirSync(dist)) {
  if (file.startsWith('part-') && !written.has(file)) rmSync(`${dist}/${file}`);
}

copyFileSync(`${here}commonjs.cjs`, `${dist}/index.cjs`);

// One file for Node and for a browser's worker, which runs whether the nearest package.json states "module" or not: an extension ships it on its
// own, and a page too.
const server = await build({
  ...common,
  metafile: true,
  entryPoints: [`${here}src/editor/server.ts`],
  outfile: `${dist}/server.js`,
  platform: 'node',
  conditions: ['browser'],
  format: 'cjs',
  banner: {
    js: `(async()=>{const require='importScripts'in globalThis?void 0:(await import('node:module')).createRequire(process.execPath),module={exports:{}};`,
  },
  footer: { js: '})();' },
});

// What the package contains of others, and what the server does, for who ships that.
writeFileSync(`${here}THIRD-PARTY-NOTICES`, noticesOf(packageFolders(here, metafile)));
writeFileSync(`${dist}/server-contains.json`, JSON.stringify(packageFolders(here, server.metafile)));
copyFileSync(fileURLToPath(new URL('../../LICENSE', import.meta.url)), `${here}LICENSE`);

// How a sheet and the candidates of a shortlist look, for an editor that shows them; the colours are its own.
writeFileSync(`${dist}/sheet.css`, CHART_STYLE + CONTENT_STYLE + CHOICE_STYLE);

// The library's types, which need no others: what it imports shows in none of its signatures.
const library = readFileSync(modules.index, 'utf8');
const types = ts.transpileDeclaration(library, {
  fileName: modules.index,
  reportDiagnostics: true,
  compilerOptions: { target: ts.ScriptTarget.ES2022, strict: true },
});
const problems = (types.diagnostics ?? []).map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, ' '));
if (problems.length > 0) throw new Error(`the library's types: ${problems.join('; ')}`);
mkdirSync(`${dist}/types`, { recursive: true });
// Each sort of reader has its own, for a compiler takes a module's types for a module; the one that tests look at last.
writeFileSync(`${dist}/types/index.d.cts`, types.outputText);
writeFileSync(`${dist}/types/index.d.ts`, types.outputText);
