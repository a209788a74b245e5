/** A step of the action: writes the review as a comment on the pull request, or renews the one that it wrote before. */
import { readFileSync } from 'node:fs';

const {
  FETTLE_TOKEN = '',
  FETTLE_REVIEW = '',
  FETTLE_CHANGED = 'true',
  FETTLE_PULL_REQUEST = '',
  GITHUB_REPOSITORY = '',
  GITHUB_API_URL = 'https://api.github.com',
} = process.env;

/** By which the comment is found again; nobody sees it. */
const MARKER = '<!-- fettle review -->';
/** What a review begins with: a person's comment that quotes the marker does not. */
const BEGINNING = '## ';
/** They could put the marker into a comment of theirs, and later change what the review says. */
const OUTSIDERS: readonly unknown[] = ['NONE', 'CONTRIBUTOR', 'FIRST_TIMER', 'FIRST_TIME_CONTRIBUTOR', 'MANNEQUIN'];
/** For one answer, ms. */
const PATIENCE = 30_000;

interface Comment {
  readonly id: number;
  readonly body?: string | null;
  readonly user?: { readonly type?: string } | null;
  /** What the author is to the repository. */
  readonly author_association?: string;
}

const comments = `/repos/${GITHUB_REPOSITORY}/issues/${FETTLE_PULL_REQUEST}/comments`;
const body = `${readFileSync(FETTLE_REVIEW, 'utf8')}\n${MARKER}\n`;

// A comment is a courtesy: whatever is in its way (a network, a fork's token that only reads), the run ends as the review says.
let failure = 'the comments of this pull request could not be listed, so none is written, lest there be two';
try {
  const known = await ownComment();
  failure = 'the review could not be written as a comment';
  await write(known);
} catch (error) {
  warn(`${failure} (${reasonOf(error)}); the review stands in the summary of this run`);
}

/** Whoever wrote it: with a person's token it is that person. */
async function ownComment(): Promise<Comment | undefined> {
  const seen = new Set<number>();
  for (let page = 1; ; page++) {
    const list = (await call('GET', `${comments}?per_page=100&page=${page}`)) as readonly Comment[];
    const fresh = list.filter(({ id }) => !seen.has(id));
    const found = fresh.find(isOwn);
    if (found || fresh.length === 0) return found;
    for (const { id } of fresh) seen.add(id);
  }
}

function isOwn({ body: text, user, author_association: standing }: Comment): boolean {
  if (user?.type !== 'Bot' && OUTSIDERS.includes(standing)) return false;
  return Boolean(text?.startsWith(BEGINNING) && text.trimEnd().endsWith(MARKER));
}

async function write(known: Comment | undefined): Promise<void> {
  if (known?.body?.trim() === body.trim()) say('the comment is up to date');
  else if (known) {
    await call('PATCH', `/repos/${GITHUB_REPOSITORY}/issues/comments/${known.id}`, { body });
    say('renewed the comment');
  } else if (FETTLE_CHANGED === 'true') {
    await call('POST', comments, { body });
    say('commented');
  } else say('nothing of Fettle was changed: no comment');
}

async function call(method: string, path: string, content?: unknown): Promise<unknown> {
  const response = await fetch(`${GITHUB_API_URL}${path}`, {
    method,
    signal: AbortSignal.timeout(PATIENCE),
    headers: {
      accept: 'application/vnd.github+json',
      authorization: `Bearer ${FETTLE_TOKEN}`,
      'content-type': 'application/json',
      'x-github-api-version': '2022-11-28',
    },
    ...(content !== undefined && { body: JSON.stringify(content) }),
  });
  if (!response.ok) throw new Error(`the forge answers ${response.status}`);
  return response.json();
}

/** What `fetch` says of a network stands in the cause. */
function reasonOf(error: unknown): string {
  const { message, cause } = error as { message?: string; cause?: { code?: string; message?: string } };
  return [message, cause?.code ?? cause?.message].filter(Boolean).join(': ');
}

function say(message: string): void {
  process.stdout.write(`${message}\n`);
}

/** One line, as a workflow command takes it. */
function warn(message: string): void {
  process.stdout.write(`::warning title=Fettle review::${message.replaceAll('%', '%25').replace(/[\r\n]+/g, ' ')}\n`);
}
