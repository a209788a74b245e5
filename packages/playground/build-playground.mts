// Builds the page into dist: everything that it loads is next to it.
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type BuildOptions, build } from 'esbuild';
import { exampleTexts } from '../language/example-texts.ts';
import { noticesOf, packageFolders } from '../language/notices.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
const language = fileURLToPath(new URL('../language/', import.meta.url));
const extension = fileURLToPath(new URL('../extension/', import.meta.url));
const dist = `${here}dist`;

for (const made of ['server.js', 'sheet.css', 'server-contains.json']) {
  if (!existsSync(`${language}dist/${made}`)) {
    console.error(`packages/language/dist/${made} is missing: build packages/language first.`);
    process.exit(1);
  }
}

rmSync(dist, { recursive: true, force: true });
mkdirSync(dist);

const common: BuildOptions = {
  bundle: true,
  absWorkingDir: here,
  format: 'iife',
  minify: process.env.FETTLE_DEBUG !== '1',
  platform: 'browser',
  target: 'es2022',
  logLevel: 'warning',
  metafile: true,
  outdir: dist,
  entryPoints: {
    page: 'src/start-page.ts',
    frame: 'src/sheet-frame.ts',
    theme: 'src/theme.ts',
    view: `${extension}view/draw-view.ts`,
  },
};
const { metafile } = await build(common);

for (const file of ['index.html', 'sheet.html', 'page.css', 'colours.css']) cpSync(`${here}${file}`, `${dist}/${file}`);
const looks = [`${language}dist/sheet.css`, `${extension}view/sheet.css`].map((file) => readFileSync(file, 'utf8'));
writeFileSync(`${dist}/sheet.css`, looks.join('\n'));
cpSync(`${language}dist/server.js`, `${dist}/server.js`);
cpSync(`${extension}images/icon.svg`, `${dist}/icon.svg`);
cpSync(`${language}reference`, `${dist}/reference`, { recursive: true });
cpSync(fileURLToPath(new URL('../../LICENSE', import.meta.url)), `${dist}/LICENSE`);

const ofServers: string[] = JSON.parse(readFileSync(`${language}dist/server-contains.json`, 'utf8'));
writeFileSync(
  `${dist}/THIRD-PARTY-NOTICES`,
  noticesOf([...packageFolders(here, metafile ?? { inputs: {}, outputs: {} }), ...ofServers]),
);

// Written last: a test sees by it whether the page is as its sources.
writeFileSync(`${dist}/examples.json`, exampleTexts('**/*.{fettle,csv}'));
