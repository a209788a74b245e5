// Loads the extension's client as an editor does, with an editor that consists of names only, and prints how long that took, ms.
const Module = require('node:module');
const { join } = require('node:path');

const named = () => new Proxy(class {}, { get: (own, key) => (key in own ? own[key] : named()) });
const editor = named();
const load = Module._load;
Module._load = (name, ...more) => (name === 'vscode' ? editor : load(name, ...more));

const start = process.hrtime.bigint();
require(join(__dirname, '../../packages/extension/dist/client.js'));
process.stdout.write(String(Number(process.hrtime.bigint() - start) / 1e6));
