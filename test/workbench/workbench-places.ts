import { join } from 'node:path';

const ROOT = join(import.meta.dirname, '..', '..');
export const EXAMPLES = join(ROOT, 'examples');
export const EXTENSION = join(ROOT, 'packages', 'extension');
export const VSIX = join(EXTENSION, 'fettle.vsix');

/** Where the server edition is installed; ignored by git. */
export const WORKBENCH = join(ROOT, '.cache', 'workbench');
export const SERVER_MAIN = join(WORKBENCH, 'node_modules', 'code-server', 'lib', 'vscode', 'out', 'server-main.js');

/** The suite as both extension hosts load it: one CommonJS file, outside any package that states it were a module. */
export const SUITE = join(ROOT, '.cache', 'workbench-suite');

/** The server edition runs on exactly this Node. */
export const NODE_MAJOR = 24;
export const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
