// Installs VS Code's server edition from its own lock file into an ignored folder. Takes about two minutes, 600 MB; a
// second call finds everything in place.
import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { CHROMIUM, NODE_MAJOR, SERVER_MAIN, WORKBENCH } from './workbench-places.ts';

const lockFolder = join(import.meta.dirname, 'runtime');

const missing = whatIsMissing();
if (missing.length > 0) {
  console.error(
    `The server edition cannot be installed on this machine. Missing:\n${missing.map((m) => `  ${m}`).join('\n')}`,
  );
  process.exit(1);
}

const lock = readFileSync(join(lockFolder, 'package-lock.json'), 'utf8');
const stamp = join(WORKBENCH, 'installed-from.json');
if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) {
  console.log('The server edition is installed.');
} else {
  install();
}

/** Each as a line that states what is missing and how to get it on Debian. */
function whatIsMissing(): string[] {
  const lines: string[] = [];
  if (process.platform !== 'linux') lines.push(`Linux (this is ${process.platform}); use --desktop here`);
  if (Number(process.versions.node.split('.')[0]) !== NODE_MAJOR) {
    lines.push(
      `Node ${NODE_MAJOR} (this is ${process.version}); run this through npm, which finds the one of the lock file`,
    );
  }
  if (!existsSync(CHROMIUM)) lines.push(`${CHROMIUM}: apt-get install chromium, or name another browser in CHROMIUM`);
  if (!existsSync('/usr/include/gssapi/gssapi.h')) lines.push('gssapi/gssapi.h: apt-get install libkrb5-dev');
  for (const [program, from] of [
    ['g++', 'g++'],
    ['make', 'make'],
    ['python3', 'python3'],
  ] as const) {
    if (spawnSync(program, ['--version']).error) lines.push(`${program}: apt-get install ${from}`);
  }
  return lines;
}

function install(): void {
  rmSync(WORKBENCH, { recursive: true, force: true });
  mkdirSync(WORKBENCH, { recursive: true });
  for (const file of ['package.json', 'package-lock.json']) copyFileSync(join(lockFolder, file), join(WORKBENCH, file));
  // Its native modules are built for, and its install script insists on, the Node that will run it.
  const path = [dirname(process.execPath), process.env.PATH].join(delimiter);
  // The script requests it by the user agent, and an npm that called us hands down its own, with another Node in it.
  const { npm_config_user_agent: _, ...environment } = process.env;
  const { status } = spawnSync('npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: WORKBENCH,
    env: { ...environment, PATH: path },
    stdio: 'inherit',
  });
  if (status !== 0 || !existsSync(SERVER_MAIN)) {
    console.error(`npm ci in ${WORKBENCH} failed; its output stands above.`);
    process.exit(1);
  }
  writeFileSync(stamp, lock);
  console.log('The server edition is installed.');
}
