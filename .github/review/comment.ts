/** A step of the action: writes the review as a comment on the pull request, or renews the one that it wrote before. */
import { readFileSync } from 'node:fs';

const {
  FETTLE_TOKEN = '',
  FETTLE_REVIEW = '',
  FETTLE_PULL_REQUEST = '',
  GITHUB_REPOSITORY = '',
  GITHUB_API_URL = 'https://api.github.com',
} = process.env;

/** By which the comment is found again; nobody sees it. */
const MARKER = '<!-- fettle review -->';
const MOST_PAGES = 20;

interface Comment {
  readonly id: number;
  readonly body?: string;
  readonly user?: { readonly type?: string };
}

const comments = `/repos/${GITHUB_REPOSITORY}/issues/${FETTLE_PULL_REQUEST}/comments`;
const body = `${readFileSync(FETTLE_REVIEW, 'utf8')}\n${MARKER}\n`;

const known = await ownComment();
if (known) {
  if (known.body?.trim() === body.trim()) say('the comment is up to date');
  else await write('PATCH', `/repos/${GITHUB_REPOSITORY}/issues/comments/${known.id}`);
} else await write('POST', comments);

/** A person's comment may quote the marker; only a program's own one is renewed. */
async function ownComment(): Promise<Comment | undefined> {
  for (let page = 1; page <= MOST_PAGES; page++) {
    const response = await call('GET', `${comments}?per_page=100&page=${page}`);
    if (!response.ok) return undefined;
    const list = (await response.json()) as Comment[];
    const found = list.find((comment) => comment.user?.type === 'Bot' && comment.body?.trimEnd().endsWith(MARKER));
    if (found || list.length < 100) return found;
  }
  return undefined;
}

async function write(method: 'POST' | 'PATCH', path: string): Promise<void> {
  const response = await call(method, path, { body });
  if (response.ok) say(method === 'POST' ? 'commented' : 'renewed the comment');
  // Pull requests from forks have a token that only reads: the review stands in the summary of the run.
  else warn(`the review could not be written as a comment (${response.status}); it stands in the summary of this run`);
}

function call(method: string, path: string, content?: unknown): Promise<Response> {
  return fetch(`${GITHUB_API_URL}${path}`, {
    method,
    headers: {
      accept: 'application/vnd.github+json',
      authorization: `Bearer ${FETTLE_TOKEN}`,
      'content-type': 'application/json',
      'x-github-api-version': '2022-11-28',
    },
    ...(content !== undefined && { body: JSON.stringify(content) }),
  });
}

function say(message: string): void {
  process.stdout.write(`${message}\n`);
}

function warn(message: string): void {
  process.stdout.write(`::warning title=Fettle review::${message}\n`);
}
