/** The steps of the action, run as a runner runs them: environment in, files and outputs out, one comment on the pull request. Needs the build. */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CRAFT, Repository } from './repository.ts';

const steps = join(import.meta.dirname, '../../.github/review');
const { GITHUB_BASE_REF: _, ...environment } = process.env;

/** A clone as a runner has it: the pull request checked out without a branch. */
function checkedOut(origin: Repository): Repository {
  const clone = new Repository();
  clone.git('remote', 'add', 'origin', `file://${origin.folder}`);
  clone.git('fetch', '-q', 'origin');
  clone.git('checkout', '-q', '--detach', 'origin/change');
  mkdirSync(join(clone.folder, '.runner'));
  return clone;
}

function reviewStep({ folder }: Repository, env: Record<string, string>) {
  const runner = join(folder, '.runner');
  const { status, stdout } = spawnSync(process.execPath, [join(steps, 'review.ts')], {
    cwd: folder,
    encoding: 'utf8',
    env: {
      ...environment,
      RUNNER_TEMP: runner,
      GITHUB_OUTPUT: join(runner, 'output'),
      GITHUB_STEP_SUMMARY: join(runner, 'summary'),
      FETTLE_PATHS: '.\n',
      ...env,
    },
  });
  const output = existsSync(join(runner, 'output')) ? readFileSync(join(runner, 'output'), 'utf8') : '';
  const outputs = Object.fromEntries(output.split('\n').map((line) => line.split(/=(.*)/s).slice(0, 2)));
  return { status, stdout, outputs: outputs as Record<string, string> };
}

function changed(): Repository {
  const origin = new Repository(CRAFT);
  origin.branch('change').edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %').commit();
  return origin;
}

describe('the review step', () => {
  it('compares with the target of the pull request, keeps the review, and leaves its exit code to the last step', () => {
    using origin = changed();
    using clone = checkedOut(origin);
    const { status, outputs } = reviewStep(clone, { GITHUB_BASE_REF: 'main' });
    expect(status).toBe(0);
    expect(outputs).toMatchObject({ worry: 'error', code: '1' });
    const review = readFileSync(outputs.review ?? '', 'utf8');
    expect(review).toMatch(/^## Stop and check: 1 new error\n/);
    expect(readFileSync(join(clone.folder, '.runner/summary'), 'utf8')).toBe(review);
  });

  it('may be set never to fail', () => {
    using origin = changed();
    using clone = checkedOut(origin);
    const { outputs } = reviewStep(clone, { FETTLE_BASE: 'origin/main', FETTLE_FAIL_ON: 'never' });
    expect(outputs).toMatchObject({ worry: 'error', code: '0' });
  });

  it('keeps all findings for code scanning, with paths from the root of the repository', () => {
    using origin = changed();
    using clone = checkedOut(origin);
    const { outputs } = reviewStep(clone, { GITHUB_BASE_REF: 'main', FETTLE_SARIF: 'true' });
    const log = JSON.parse(readFileSync(outputs.sarif ?? '', 'utf8'));
    expect(log.version).toBe('2.1.0');
    const found = log.runs[0].results.map(
      ({ ruleId, locations }: { ruleId: string; locations: { physicalLocation: { artifactLocation: unknown } }[] }) => [
        ruleId,
        locations[0]?.physicalLocation.artifactLocation,
      ],
    );
    expect(found).toContainEqual(['motor-overvoltage', { uri: 'builds/rafter.fettle', uriBaseId: '%SRCROOT%' }]);
    expect(outputs.code).toBe('1');
  });

  it('reports what is missing, as the runner shows it', () => {
    using origin = changed();
    using clone = checkedOut(origin);
    expect(reviewStep(clone, {})).toMatchObject({
      status: 2,
      stdout: expect.stringMatching(/^::error .*no pull request/),
    });
    const evil = reviewStep(clone, { FETTLE_BASE: '--output=x\n::set-env' });
    expect(evil).toMatchObject({ status: 2, stdout: expect.stringContaining('begins with a dash') });
    expect(evil.stdout.trim().split('\n')).toHaveLength(1);
  });
});

interface Comment {
  readonly id: number;
  body: string;
  readonly user: { readonly type: string };
  readonly author_association?: string;
}

/** As much of the forge as the step talks to. */
async function withForge(
  comments: Comment[],
  use: (url: string, calls: string[]) => Promise<void>,
  forbidden?: 'all' | 'writing',
) {
  const calls: string[] = [];
  const server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      const { pathname, searchParams } = new URL(request.url ?? '', 'http://forge');
      calls.push(`${request.method} ${pathname}`);
      const sent = chunks.length > 0 ? (JSON.parse(Buffer.concat(chunks).toString()) as { body: string }) : undefined;
      if (forbidden === 'all' || (forbidden && request.method !== 'GET')) response.writeHead(403).end('{}');
      else if (request.method === 'GET') {
        const page = Number(searchParams.get('page'));
        response.end(JSON.stringify(comments.slice((page - 1) * 100, page * 100)));
      } else {
        const id = Number(pathname.split('/').at(-1));
        const known = comments.find((comment) => comment.id === id);
        if (known) known.body = sent?.body ?? '';
        else comments.push({ id: comments.length + 1, body: sent?.body ?? '', user: { type: 'Bot' } });
        response.end('{}');
      }
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  try {
    await use(`http://127.0.0.1:${(server.address() as AddressInfo).port}`, calls);
  } finally {
    server.close();
  }
}

function commentStep(url: string, review: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [join(steps, 'comment.ts')], {
      env: {
        ...environment,
        FETTLE_TOKEN: 'token',
        FETTLE_REVIEW: review,
        FETTLE_PULL_REQUEST: '7',
        GITHUB_REPOSITORY: 'group/craft',
        GITHUB_API_URL: url,
      },
    });
    let said = '';
    child.stdout.on('data', (chunk) => {
      said += chunk;
    });
    child.on('error', reject);
    child.on('close', (code) => (code === 0 ? resolve(said) : reject(new Error(`exit code ${code}`))));
  });
}

describe('the comment step', () => {
  it('writes one comment, renews it, and leaves those of people alone', async () => {
    using repository = new Repository({ 'review.md': '## First\n' });
    const review = join(repository.folder, 'review.md');
    const quoting = { id: 1, body: 'look:\n<!-- fettle review -->', user: { type: 'User' } };
    const chatter = Array.from({ length: 120 }, (_, i): Comment => ({ id: i + 2, body: 'hm', user: { type: 'Bot' } }));
    const comments: Comment[] = [quoting, ...chatter];
    await withForge(comments, async (url, calls) => {
      expect(await commentStep(url, review)).toBe('commented\n');
      expect(calls.at(-1)).toBe('POST /repos/group/craft/issues/7/comments');
      expect(await commentStep(url, review)).toBe('the comment is up to date\n');
      repository.write({ 'review.md': '## Second\n' });
      expect(await commentStep(url, review)).toBe('renewed the comment\n');
    });
    expect(comments).toHaveLength(122);
    expect(comments.at(-1)?.body).toMatch(/^## Second\n/);
    expect(quoting.body).toMatch(/^look/);
  });

  it('of a pull request from a fork may not be written: a warning, not a failure', async () => {
    using repository = new Repository({ 'review.md': '## First\n' });
    const use = async (url: string) =>
      expect(await commentStep(url, join(repository.folder, 'review.md'))).toMatch(/^::warning .*403.*summary/);
    await withForge([], use, 'writing');
  });

  it('finds its comment whoever wrote it, on any page, but takes none from a stranger', async () => {
    using repository = new Repository({ 'review.md': '## Now\n' });
    const body = '## Before\n\n<!-- fettle review -->\n';
    const stranger = { id: 1, body, user: { type: 'User' }, author_association: 'CONTRIBUTOR' };
    const chatter = Array.from(
      { length: 2300 },
      (_, i): Comment => ({ id: i + 2, body: 'hm', user: { type: 'User' } }),
    );
    const own: Comment = { id: 9999, body, user: { type: 'User' }, author_association: 'MEMBER' };
    const comments: Comment[] = [stranger, ...chatter, own];
    await withForge(comments, async (url) => {
      expect(await commentStep(url, join(repository.folder, 'review.md'))).toBe('renewed the comment\n');
    });
    expect(comments).toHaveLength(2302);
    expect(own.body).toMatch(/^## Now\n/);
    expect(stranger.body).toBe(body);
  });

  it('writes no second comment when it cannot see the first one', async () => {
    using repository = new Repository({ 'review.md': '## First\n' });
    await withForge(
      [],
      async (url, calls) => {
        const said = await commentStep(url, join(repository.folder, 'review.md'));
        expect(said).toMatch(/^::warning .*could not be listed.*none is written.*403.*summary of this run\n$/);
        expect(calls).toEqual(['GET /repos/group/craft/issues/7/comments']);
      },
      'all',
    );
  });

  it('reports in a line that the forge cannot be reached, and leaves the exit code to the review', async () => {
    using repository = new Repository({ 'review.md': '## First\n' });
    let closed = '';
    await withForge([], async (url) => {
      closed = url;
    });
    const said = await commentStep(closed, join(repository.folder, 'review.md'));
    expect(said).toMatch(/^::warning [^\n]*could not be listed[^\n]*ECONNREFUSED[^\n]*\n$/);
  });
});

describe('action.yml', () => {
  it('uploads findings unless told not to, and lives without the right to', () => {
    const text = readFileSync(join(import.meta.dirname, '../../action.yml'), 'utf8');
    expect(text).toMatch(/^ {2}sarif:\n.*\n {4}default: "true"$/m);
    const [, upload] = /- name: Upload findings\n([\s\S]*?)\n\n/.exec(text) ?? [];
    expect(upload).toContain('continue-on-error: true');
  });

  it('ends as the review does, also when it could not comment', () => {
    const text = readFileSync(join(import.meta.dirname, '../../action.yml'), 'utf8');
    const [, comment] = /- name: Comment\n([\s\S]*?)\n\n/.exec(text) ?? [];
    expect(comment).toContain('continue-on-error: true');
  });

  it('puts nothing that others choose into a script', () => {
    const text = readFileSync(join(import.meta.dirname, '../../action.yml'), 'utf8');
    const scripts = text.split('\n').filter((line) => /^\s*run:/.test(line));
    expect(scripts.length).toBeGreaterThan(2);
    for (const script of scripts) expect(script).not.toContain('${{');
  });
});
