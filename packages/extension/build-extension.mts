// Bundles the client for both hosts and packs the server and the reference pages with it.
import { cpSync, existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type BuildOptions, build } from 'esbuild';
import { exampleTexts } from '../language/example-texts.ts';
import { noticesOf, packageFolders } from '../language/notices.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
const language = fileURLToPath(new URL('../language/', import.meta.url));
const dist = `${here}dist`;

for (const made of ['server.js', 'sheet.css']) {
  if (!existsSync(`${language}dist/${made}`)) {
    console.error(`packages/language/dist/${made} is missing: build packages/language first.`);
    process.exit(1);
  }
}

rmSync(dist, { recursive: true, force: true });

/** Bundles that a debugger can follow. */
const DEBUG = process.env.FETTLE_DEBUG === '1';

const client: BuildOptions = {
  bundle: true,
  absWorkingDir: here,
  external: ['vscode'],
  format: 'cjs',
  minify: !DEBUG,
  sourcemap: DEBUG && 'inline',
  target: 'es2022',
  logLevel: 'warning',
};
const node = await build({
  ...client,
  metafile: true,
  entryPoints: [`${here}src/extension-node.ts`],
  outfile: `${dist}/client.js`,
  platform: 'node',
});
const web = await build({
  ...client,
  metafile: true,
  entryPoints: [`${here}src/extension-browser.ts`],
  outfile: `${dist}/client-web.js`,
  platform: 'browser',
});

// What draws a build sheet: a script of its own, and the look of `fettle sheet` in the colours of the theme.
const view = await build({
  ...client,
  metafile: true,
  format: 'iife',
  entryPoints: [`${here}view/draw-view.ts`],
  outfile: `${dist}/view/sheet.js`,
  platform: 'browser',
});
const looks = [`${language}dist/sheet.css`, `${here}view/sheet.css`].map((file) => readFileSync(file, 'utf8'));
writeFileSync(`${dist}/view/sheet.css`, looks.join('\n'));

cpSync(`${language}dist/server.js`, `${dist}/server.js`);
writeFileSync(`${dist}/examples.json`, exampleTexts('**/*.fettle'));
cpSync(`${language}reference`, `${dist}/reference`, { recursive: true });

// What the extension contains of others: its own parts and the server.
const ofServer: string[] = JSON.parse(readFileSync(`${language}dist/server-contains.json`, 'utf8'));
const own = packageFolders(here, node.metafile, web.metafile, view.metafile);
writeFileSync(`${here}THIRD-PARTY-NOTICES`, noticesOf([...own, ...ofServer]));
for (const text of ['LICENSE', 'CHANGELOG.md']) {
  const file = fileURLToPath(new URL(`../../${text}`, import.meta.url));
  if (existsSync(file)) cpSync(file, `${here}${text}`);
}
