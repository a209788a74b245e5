/** The action as a release packs it, run as a runner runs it: a checkout, environment in, files and outputs out, a comment on a played forge. Needs the build. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { packInto } from '../../.github/action/pack.ts';
import { atLength } from '../long.ts';
import { CRAFT } from '../report/review/rooftop-craft.ts';
import { type Comment, PlayedForge } from './played-forge.ts';
import { Repository } from './repository.ts';
import {
  actionOf,
  bareIn,
  DEFAULTS,
  description,
  PullRequest,
  runnerIn,
  SITE_DEFAULTS,
  siteDescription,
  small,
} from './run-action.ts';

const root = join(import.meta.dirname, '../..');
const home = mkdtempSync(join(tmpdir(), 'fettle-action-'));
const packed = join(home, 'packed');

beforeAll(() => packInto(packed));
afterAll(() => rmSync(home, { recursive: true, force: true }));

const run = runnerIn(home, packed);

const MARKER = '<!-- fettle review -->';
const BEFORE = `## Nothing to worry about\n\n${MARKER}\n`;
const own = (body = BEFORE): Comment => ({ id: 41, body, user: { login: 'github-actions[bot]' } });

describe('the action', { timeout: 120_000 }, () => {
  it('reviews the shallowest checkout of a pull request: one comment, a summary, outputs, findings handed on, and the exit code; for the next commit it renews the comment', async () => {
    using pull = new PullRequest();
    using checkout = pull.checkedOut();
    await using forge = await PlayedForge.start();
    const { code, outputs, summary, reported } = await run(checkout, pull.head, { forge });
    expect(code, reported).toBe(1);
    expect(reported).toContain('commented\n');
    expect(summary).toMatch(/^## Stop and check: 1 new error\n/);
    expect(outputs).toMatchObject({ worry: 'error' });
    expect(readFileSync(outputs.review ?? '', 'utf8')).toBe(summary);
    expect(forge.comments.map(({ body }) => body)).toEqual([`${summary.trimEnd()}\n\n${MARKER}\n`]);
    const [upload] = forge.uploads;
    expect(upload).toMatchObject({ commit_sha: checkout.git('rev-parse', 'HEAD'), ref: 'refs/pull/7/merge' });
    expect(upload?.log).toEqual(JSON.parse(readFileSync(outputs.sarif ?? '', 'utf8')));
    expect(upload?.log).toMatchObject({ version: '2.1.0', runs: [{ automationDetails: { id: 'fettle/' } }] });
    expect(JSON.stringify(upload?.log)).toContain('"ruleId":"motor-overvoltage"');

    // For the next commit its comment is renewed.
    pull.push((origin) => origin.edit('builds/rafter.fettle', 'duty 100 %', 'duty 55 %'));
    using next = pull.checkedOut();
    const second = await run(next, pull.head, { forge, inputs: { sarif: 'false' } });
    expect(second.code, second.reported).toBe(0);
    expect(second.reported).toContain('renewed the comment\n');
    expect(forge.comments.map(({ body }) => body)).toEqual([`${second.summary.trimEnd()}\n\n${MARKER}\n`]);
    expect(second.summary).toMatch(/^## No new error or warning/);
    expect(forge.uploads).toHaveLength(1);
  });

  atLength(
    'of a whole checkout of the branch itself compares with where it left the target, or with the base that is stated',
    async () => {
      using pull = new PullRequest();
      using checkout = pull.checkedOut('origin', '+refs/heads/*:refs/remotes/origin/*');
      checkout.git('checkout', '-q', '--detach', pull.head);
      const quiet = { sarif: 'false', comment: 'false' };
      const required = await run(checkout, pull.head, { inputs: quiet });
      expect(required.summary).toMatch(/^## Stop and check: 1 new error\n/);
      const stated = await run(checkout, pull.head, { inputs: { ...quiet, base: pull.head } });
      expect(stated.summary).toMatch(/^## Nothing to worry about/);
    },
  );

  atLength('fails as it is set to: never, or at what is permitted', async () => {
    const quiet = { sarif: 'false', comment: 'false' };
    {
      using pull = new PullRequest();
      using checkout = pull.checkedOut();
      expect(await run(checkout, pull.head, { inputs: { ...quiet, 'fail-on': 'never' } })).toMatchObject({ code: 0 });
    }
    using pull = new PullRequest((origin) => origin.edit('rules/house.fettle', '<= 270 g', '<= 320 g'));
    using checkout = pull.checkedOut();
    const usual = await run(checkout, pull.head, { inputs: quiet });
    expect(usual.summary).toContain('requirement loosened');
    expect(usual.code).toBe(0);
    expect(await run(checkout, pull.head, { inputs: { ...quiet, 'fail-on': 'forgiven' } })).toMatchObject({ code: 1 });
    const both = await run(checkout, pull.head, { inputs: { ...quiet, 'fail-on': 'warning, forgiven' } });
    expect(both.code).toBe(1);
  });

  atLength('writes no comment where nothing of Fettle was changed; one that is there already is renewed', async () => {
    using pull = new PullRequest((origin) => origin.write({ 'notes.md': 'dry roof\n' }));
    using checkout = pull.checkedOut();
    await using forge = await PlayedForge.start();
    const { code, reported } = await run(checkout, pull.head, { forge });
    expect([code, forge.comments]).toEqual([0, []]);
    expect(reported).toContain('no comment');
    forge.comments.push(own('## Stop and check: 1 new error\n\n<!-- fettle review -->\n'));
    expect((await run(checkout, pull.head, { forge })).reported).toContain('renewed the comment');
    expect(forge.comments[0]?.body).toMatch(/^## Nothing to worry about/);
  });

  atLength('leaves no earlier comment as if it were true when the review fails', async () => {
    using pull = new PullRequest();
    using checkout = pull.checkedOut();
    await using forge = await PlayedForge.start();
    forge.comments.push(own());
    const { code, reported, summary } = await run(checkout, pull.head, { forge, inputs: { base: 'no-such-branch' } });
    expect(code).toBe(2);
    expect(reported).toMatch(/^::error [^\n]*no-such-branch/m);
    for (const text of [summary, forge.comments[0]?.body ?? '']) {
      expect(text).toMatch(/^## Not reviewed\n/);
      expect(text).toContain(pull.head.slice(0, 12));
      expect(text).toContain('https://forge.example/group/craft/actions/runs/12');
      expect(text).not.toContain('Nothing to worry about');
    }
    // Without an earlier one the failed check is enough.
    await using other = await PlayedForge.start();
    await run(checkout, pull.head, { forge: other, inputs: { base: 'no-such-branch' } });
    expect(other.comments).toEqual([]);
  });

  it('reports it too where the checkout before it failed', async () => {
    using pull = new PullRequest();
    await using forge = await PlayedForge.start();
    forge.comments.push(own());
    const nothing = { folder: mkdtempSync(join(home, 'nothing-')), git: () => pull.head };
    const { code, reported } = await run(nothing, pull.head, { forge });
    expect(code).toBe(2);
    expect(reported).toMatch(/^::error [^\n]*repository/m);
    expect(forge.comments[0]?.body).toMatch(/^## Not reviewed\n/);
  });

  atLength('has marked the earlier comment as out of date before anything can end it', async () => {
    using pull = new PullRequest();
    using checkout = pull.checkedOut();
    await using forge = await PlayedForge.start();
    forge.comments.push(own());
    const { code } = await run(checkout, pull.head, { forge, kill: /^PATCH/ });
    expect(code).not.toBe(1);
    const stale = forge.comments[0]?.body ?? '';
    expect(stale).toMatch(
      new RegExp(`^> \\[!WARNING\\]\n> Out of date: commit ${pull.head.slice(0, 12)} is being reviewed`),
    );
    expect(stale).toContain('## Nothing to worry about');
    // The next run finds it, and neither notice nor comment is there twice.
    forge.onCall = () => undefined;
    await run(checkout, pull.head, { forge, inputs: { sarif: 'false' } });
    expect(forge.comments).toHaveLength(1);
    expect(forge.comments[0]?.body).toMatch(/^## Stop and check: 1 new error\n/);
  });

  it('repeats its request when the forge limits the rate, or is being restarted, and never comments twice', async () => {
    using pull = small();
    using checkout = pull.checkedOut();
    await using forge = await PlayedForge.start();
    const soon = { 'retry-after': '0' };
    forge.instead.push(
      { to: /^POST \/graphql/, answer: { status: 502, headers: soon } },
      { to: /^GET /, answer: { status: 429, headers: soon } },
      { to: /^GET /, answer: { status: 403, headers: { 'x-ratelimit-remaining': '0', 'x-ratelimit-reset': '1' } } },
      // It has written it, and fails to report it.
      { to: /^POST .*comments$/, answer: { status: 502, headers: soon, isDone: true } },
      { to: /^POST .*sarifs$/, answer: { status: 503, headers: soon } },
    );
    const { code, reported } = await run(checkout, pull.head, { forge });
    expect([code, forge.instead, forge.comments.length, forge.uploads.length], reported).toEqual([1, [], 1, 1]);
    expect(reported).not.toContain('::warning');
    expect(forge.calls.filter((call) => call.startsWith('POST /repos/group/craft/issues'))).toHaveLength(1);
  });

  atLength(
    'gives up with a message where the forge does not answer or requires too long a wait, and ends as the review does',
    async () => {
      using pull = new PullRequest();
      using checkout = pull.checkedOut();
      await using forge = await PlayedForge.start();
      forge.instead.push({ to: /./, answer: { status: 429, headers: { 'retry-after': '3600' } }, isForGood: true });
      const { code, reported } = await run(checkout, pull.head, { forge });
      expect(code).toBe(1);
      expect(reported.match(/^::warning .*429.*$/gm)).toHaveLength(3);
      const inputs = { sarif: 'false', comment: 'false' };
      expect((await run(checkout, pull.head, { url: 'http://127.0.0.1:9', inputs })).reported).not.toContain(
        '::warning',
      );
    },
  );

  it('of a fork, whose token only reads: warnings, the summary, and the exit code of the review', async () => {
    using pull = small();
    using checkout = pull.checkedOut();
    await using forge = await PlayedForge.start();
    forge.readOnly();
    const { code, reported, summary } = await run(checkout, pull.head, { forge });
    expect(code).toBe(1);
    expect(reported).toMatch(/^::warning [^\n]*summary of this run[^\n]*403/m);
    expect(reported).toMatch(/^::warning [^\n]*code scanning[^\n]*403/m);
    expect(summary).toMatch(/^## Stop and check/);
  });

  atLength(
    'touches nobody else’s comment, whatever it contains: a person’s, another bot’s, that of a review of another name',
    async () => {
      using pull = new PullRequest();
      using checkout = pull.checkedOut();
      await using forge = await PlayedForge.start();
      const others: Comment[] = [
        { id: 11, body: BEFORE, user: { login: 'a-stranger' } },
        { id: 12, body: BEFORE, user: { login: 'another-app[bot]' } },
        { id: 13, body: `look:\n${MARKER} yes`, user: { login: 'github-actions[bot]' } },
        { id: 14, body: BEFORE.replace('review', 'review: roof'), user: { login: 'github-actions[bot]' } },
      ];
      const chatter = Array.from(
        { length: 230 },
        (_, i): Comment => ({ id: i + 100, body: 'hm', user: { login: 'x' } }),
      );
      forge.comments.push(...others.map((one) => ({ ...one })), ...chatter);
      const inputs = { sarif: 'false' };
      await run(checkout, pull.head, { forge, inputs });
      await run(checkout, pull.head, { forge, inputs: { ...inputs, name: 'tower' } });
      expect(forge.comments.slice(0, 4)).toEqual(others);
      expect(forge.comments.slice(234).map(({ body }) => body.trimEnd().split('\n').at(-1))).toEqual([
        MARKER,
        '<!-- fettle review: tower -->',
      ]);
      await run(checkout, pull.head, { forge, inputs: { ...inputs, name: 'roof' } });
      expect(forge.comments).toHaveLength(236);
      expect(forge.comments[3]?.body).toMatch(/^## Stop and check/);
    },
  );

  atLength('finds its comment with a person’s token, and where the forge knows no viewer', async () => {
    using pull = new PullRequest();
    using checkout = pull.checkedOut();
    await using forge = await PlayedForge.start();
    forge.login = 'warden';
    forge.comments.push({ ...own(), user: { login: 'Warden' } });
    await run(checkout, pull.head, { forge, inputs: { sarif: 'false' } });
    expect(forge.comments.map(({ body }) => body.slice(0, 17))).toEqual(['## Stop and check']);
  });

  it('reports what is missing in one line, whatever was given', async () => {
    using pull = small();
    using checkout = pull.checkedOut();
    const quiet = { sarif: 'false', comment: 'false' };
    const evil = await run(checkout, pull.head, { inputs: { ...quiet, base: '--output=x\n::set-env' } });
    expect(evil).toMatchObject({ code: 2, reported: expect.stringContaining('begins with a dash') });
    expect(evil.reported.match(/^::/gm)).toHaveLength(1);
    const named = await run(checkout, pull.head, { inputs: { ...quiet, name: 'a --> b' } });
    expect(named).toMatchObject({ code: 2, reported: expect.stringMatching(/^::error [^\n]*letters/) });
    const env = { GITHUB_BASE_REF: '', GITHUB_EVENT_PATH: '' };
    const push = await run(checkout, pull.head, { inputs: quiet, env });
    expect(push).toMatchObject({ code: 2, reported: expect.stringMatching(/^::error .*no pull request/) });
  });
});

describe('what is packed', { timeout: 120_000 }, () => {
  it('uses no other action, installs and builds nothing, and names each input with its default', () => {
    expect(readFileSync(join(packed, 'action.yml'), 'utf8')).toBe(description);
    expect(description).toMatch(/^runs:\n {2}using: node24\n {2}main: action\.js$/m);
    expect(description).not.toMatch(/uses:|npm/);
    expect(readFileSync(join(packed, 'site/action.yml'), 'utf8')).toBe(siteDescription);
    expect(siteDescription).toMatch(/^runs:\n {2}using: node24\n {2}main: \.\.\/site-action\.js$/m);
    expect(siteDescription).not.toMatch(/uses:|npm/);
    const read = (sources: readonly string[]) =>
      new Set(
        sources.flatMap((name) =>
          [...actionOf(name).matchAll(/(?:input|linesOf)\('([\w-]+)'\)/g)].map(([, one = '']) => one),
        ),
      );
    expect(new Set(SITE_DEFAULTS.keys())).toEqual(read(['site-action.ts']));
    const others = readdirSync(join(root, '.github/action')).filter((name) => /(?<!site-action)\.ts$/.test(name));
    expect(new Set(DEFAULTS.keys())).toEqual(read(others));
    expect([...DEFAULTS.values(), ...SITE_DEFAULTS.values()]).not.toContain(undefined);
  });

  it('is documented in the README with the same inputs and defaults', () => {
    const readme = readFileSync(join(root, 'README.md'), 'utf8');
    for (const [name, usual] of [...DEFAULTS, ...SITE_DEFAULTS]) {
      if (name === 'token') continue;
      expect(readme).toMatch(
        new RegExp(`^\\| \`${name}\` \\| ${usual === '' ? '' : `\`${usual?.replace('.', '\\.')}\``} ?\\|`, 'm'),
      );
    }
  });

  it('has the version that the README names, in each of its names', () => {
    const { version } = JSON.parse(readFileSync(join(packed, 'package.json'), 'utf8'));
    const readme = readFileSync(join(root, 'README.md'), 'utf8');
    const named = [...readme.matchAll(/(?:packed|fettle|fettle-language)-(\d+\.\d+\.\d+)/g)].map(([, one]) => one);
    expect(named.length).toBeGreaterThan(4);
    expect([...new Set(named)]).toEqual([version]);
  });

  atLength('is all that a hook installs: without a network, without a script, and it reviews what is staged', () => {
    const hooks = readFileSync(join(packed, '.pre-commit-hooks.yaml'), 'utf8');
    const entries = [...hooks.matchAll(/^ {2}entry: (.+)$/gm)].map(([, entry = '']) => entry.split(' '));
    expect(hooks.match(/language: node/g)).toHaveLength(entries.length);
    const { scripts, dependencies, devDependencies } = JSON.parse(readFileSync(join(packed, 'package.json'), 'utf8'));
    expect([scripts, dependencies, devDependencies]).toEqual([undefined, undefined, undefined]);
    const prefix = join(home, 'prefix');
    mkdirSync(prefix);
    const npm = (...args: string[]) =>
      spawnSync('npm', args, {
        cwd: packed,
        encoding: 'utf8',
        shell: process.platform === 'win32',
        env: { ...process.env, npm_config_cache: join(home, 'cache'), npm_config_update_notifier: 'false' },
      });
    const { stdout } = npm('pack', '--silent', '--pack-destination', home);
    expect(npm('install', '--offline', '--global', `--prefix=${prefix}`, join(home, stdout.trim())).stderr).toBe('');
    using repository = new Repository(CRAFT);
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %').git('add', '.');
    const reported = entries.map(([name = '', ...args]) => {
      const ofHook = args[0] === 'check' ? ['builds/rafter.fettle'] : [];
      const env = { ...process.env, NO_COLOR: '1' };
      return spawnSync(join(prefix, 'bin', name), [...args, ...ofHook], {
        cwd: repository.folder,
        encoding: 'utf8',
        env,
      });
    });
    expect(reported.map(({ status }) => status)).toEqual([1, 1]);
    for (const { stdout: out } of reported) expect(out).toContain('motor-overvoltage');
  });
});

describe('the action for a site', { timeout: 60_000 }, () => {
  const write = (folder: string, given: Readonly<Record<string, string>> = {}) => {
    const inputs = [...SITE_DEFAULTS].map(([name, usual]) => [
      `INPUT_${name.toUpperCase()}`,
      given[name] ?? usual ?? '',
    ]);
    return spawnSync(process.execPath, [join(packed, 'site', /main: (.+)/.exec(siteDescription)?.[1] ?? '')], {
      cwd: folder,
      encoding: 'utf8',
      env: { ...bareIn(home), ...Object.fromEntries(inputs) },
    });
  };

  it('writes the pages of a checkout, with the title that is given and a link to the page to try', () => {
    using repository = new Repository(CRAFT);
    expect(write(repository.folder)).toMatchObject({ status: 0, stderr: '' });
    expect(readFileSync(join(repository.folder, 'public/index.html'), 'utf8')).toContain('Our craft');
    const given = { out: 'pages', paths: 'builds\n', title: '--Tower & group', try: 'https://forge.example/fettle/' };
    expect(write(repository.folder, given)).toMatchObject({ status: 0, stderr: '' });
    expect(readFileSync(join(repository.folder, 'pages/index.html'), 'utf8')).toContain('--Tower &amp; group');
    expect(readFileSync(join(repository.folder, 'pages/builds/Rafter.html'), 'utf8')).toContain(
      'https://forge.example/fettle/#',
    );
  });

  it('fails where it could not write, and reports why', () => {
    using repository = new Repository(CRAFT);
    expect(write(repository.folder, { out: 'builds' })).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('new or an empty folder'),
    });
  });
});
