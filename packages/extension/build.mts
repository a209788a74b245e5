// Bundles the client for both hosts and packs the servers and the reference pages beside it.
import { cpSync, existsSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type BuildOptions, build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const language = fileURLToPath(new URL('../language/', import.meta.url));
const dist = `${here}dist`;

const servers = ['server.js', 'server-web.js'];
for (const server of servers) {
  if (!existsSync(`${language}dist/${server}`)) {
    console.error(`packages/language/dist/${server} is missing: build packages/language first.`);
    process.exit(1);
  }
}

rmSync(dist, { recursive: true, force: true });

const client: BuildOptions = {
  bundle: true,
  external: ['vscode'],
  format: 'cjs',
  minify: true,
  target: 'es2022',
  logLevel: 'warning',
};
await build({ ...client, entryPoints: [`${here}src/node.ts`], outfile: `${dist}/client.js`, platform: 'node' });
await build({
  ...client,
  entryPoints: [`${here}src/browser.ts`],
  outfile: `${dist}/client-web.js`,
  platform: 'browser',
});

for (const server of servers) cpSync(`${language}dist/${server}`, `${dist}/${server}`);
cpSync(`${language}reference`, `${dist}/reference`, { recursive: true });
cpSync(fileURLToPath(new URL('../../LICENSE', import.meta.url)), `${here}LICENSE`);
