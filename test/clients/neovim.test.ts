/** A client that knows nothing of us: Debian's Neovim, without a screen, on the bundled server. */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { RAFTER, WORKSHOP } from '../protocol/workshop.ts';
import { where } from '../where.ts';
import { Home, recipeOf } from './recipes.ts';

const SERVER = fileURLToPath(new URL('../../packages/language/dist/server.js', import.meta.url));
const SCRIPT = fileURLToPath(new URL('./check.lua', import.meta.url));
const isInstalled = spawnSync('nvim', ['--version']).status === 0;

interface Seen {
  readonly diagnostics: readonly { code: string; line: number; severity: number; message: string }[];
  readonly hover: string;
}

function seenBy(files: Record<string, string>, file: string, name: string): Seen {
  using home = new Home(files);
  const run = spawnSync('nvim', ['--headless', '-u', 'NONE', '-i', 'NONE', '-n', '-c', `luafile ${SCRIPT}`], {
    cwd: home.folder,
    env: { ...home.env, FETTLE_NODE: process.execPath, FETTLE_SERVER: SERVER, FETTLE_FILE: file, FETTLE_NAME: name },
    encoding: 'utf8',
    timeout: 50_000,
  });
  expect(run.stderr).not.toMatch(/Error|E\d{2,}:/);
  return home.seen<Seen>();
}

where(isInstalled, 'nvim on the path; Debian has it as neovim')(
  'Neovim shows the finding at its line and the hover of a build',
  () => {
    const files = { ...WORKSHOP, 'builds/rafter.fettle': RAFTER.replace(' duty 58 %', '') };
    const { diagnostics, hover } = seenBy(files, 'builds/rafter.fettle', 'Rafter');
    const line = files['builds/rafter.fettle'].split('\n').findIndex((text) => text.includes('pack: Slim900_5S'));
    const overvoltage = diagnostics.find(({ code }) => code === 'motor-overvoltage');
    // 1 is its word for an error.
    expect(overvoltage).toMatchObject({ line, severity: 1 });
    expect(hover).toMatch(/\*\*build Rafter\*\*/);
    expect(hover).toMatch(/\| all-up weight \| [\d.]+ ± [\d.]+ g \|/);
  },
);

/** Opens two files, renames a part in one of them, and prints what each of them is sent then. */
const TWO_FILES = `
local function codes(buffer)
  local all = {}
  for _, one in ipairs(vim.diagnostic.get(buffer)) do table.insert(all, one.code or one.user_data.lsp.code) end
  return all
end
local function errors(buffer)
  return #vim.diagnostic.get(buffer, { severity = vim.diagnostic.severity.ERROR })
end
vim.cmd('edit builds/rafter.fettle')
local build = vim.api.nvim_get_current_buf()
vim.wait(20000, function() return #vim.diagnostic.get(build) > 0 end, 20)
vim.cmd('edit parts/more.fettle')
local parts = vim.api.nvim_get_current_buf()
local seen = { before = errors(build) }
vim.wait(5000, function() return #vim.lsp.buf_get_clients(parts) > 0 end, 20)
vim.api.nvim_buf_set_lines(parts, 0, -1, false, { 'item Buckle { mass: 1.6 g }' })
vim.wait(20000, function() return errors(build) > 0 end, 20)
seen.renamed = codes(build)
vim.api.nvim_buf_set_lines(parts, 0, -1, false, { 'item Belt { mass: 1.6 g }' })
vim.wait(20000, function() return errors(build) == 0 end, 20)
seen.back = errors(build)
seen.servers = #vim.lsp.get_active_clients()
vim.fn.writefile({ vim.fn.json_encode(seen) }, vim.env.FETTLE_OUT)
vim.lsp.stop_client(vim.lsp.get_active_clients())
vim.wait(2000, function() return #vim.lsp.get_active_clients() == 0 end, 20)
vim.cmd('qall!')
`;

where(isInstalled, 'nvim on the path; Debian has it as neovim')(
  'Neovim, set up as the page states, has one server for all files, and no error is left when its cause is gone',
  () => {
    const rafter = RAFTER.replace('item: Strap', 'item: Strap\n  item: Belt');
    using home = new Home({
      ...WORKSHOP,
      'builds/rafter.fettle': rafter,
      'parts/more.fettle': 'item Belt { mass: 1.6 g }\n',
      'init.lua': recipeOf('Neovim', 'lua'),
      'two.lua': TWO_FILES,
    });
    const run = spawnSync('nvim', ['--headless', '-u', 'init.lua', '-i', 'NONE', '-n', '-c', 'luafile two.lua'], {
      cwd: home.folder,
      env: home.env,
      encoding: 'utf8',
      timeout: 100_000,
    });
    expect(run.stderr).not.toMatch(/Error|E\d{2,}:/);
    expect(home.seen()).toMatchObject({
      before: 0,
      renamed: expect.arrayContaining(['unknown-name']),
      back: 0,
      servers: 1,
    });
  },
  120_000,
);
