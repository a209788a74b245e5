/** The one comment of a review on its pull request. It is written by whom the token belongs to, and nobody else's is touched. */
import { again, type Forge, ForgeError } from './forge.ts';

interface Listed {
  readonly id: number;
  readonly body?: string | null;
  readonly user?: { readonly login?: string } | null;
}

export type Written = 'commented' | 'renewed the comment' | 'the comment is up to date' | 'no comment';

/** Some forges name a bot with, some without it. */
const plain = (login: string | undefined): string => (login ?? '').replace(/\[bot\]$/, '').toLowerCase();

const STALE = /^> \[!WARNING\]\n(?:> .*\n)+\n/;

export class ReviewComment {
  readonly #forge: Forge;
  readonly #repository: string;
  readonly #pullRequest: number;
  /** By which the comment is found again; nobody sees it. */
  readonly #marker: string;
  #author: string | undefined;
  #known: Listed | undefined;

  /** @param name distinguishes the reviews of one pull request */
  constructor(forge: Forge, repository: string, pullRequest: number, name: string) {
    this.#forge = forge;
    this.#repository = repository;
    this.#pullRequest = pullRequest;
    this.#marker = `<!-- fettle review${name === '' ? '' : `: ${name}`} -->`;
  }

  /** Before anything else can fail: what an earlier run wrote is of an earlier commit, whatever becomes of this one. */
  async outdate(commit: string): Promise<void> {
    await this.#find();
    const body = this.#known?.body;
    if (!body) return;
    const notice = `> [!WARNING]\n> Out of date: commit ${commit} is being reviewed. What follows is about an earlier one.\n\n`;
    await this.#renew(`${notice}${body.replace(STALE, '')}`);
  }

  /** @param isNew whether there is to be a comment where none was written before */
  async write(text: string, isNew: boolean): Promise<Written> {
    const body = `${text.trimEnd()}\n\n${this.#marker}\n`;
    return again(async () => {
      if (!this.#known) await this.#find();
      if (this.#known?.body?.trim() === body.trim()) return 'the comment is up to date';
      if (this.#known) {
        await this.#renew(body);
        return 'renewed the comment';
      }
      if (!isNew) return 'no comment';
      // It may have been written although the answer is an error: then the next try finds it.
      await this.#forge.post(this.#comments, { body });
      return 'commented';
    });
  }

  get #comments(): string {
    return `/repos/${this.#repository}/issues/${this.#pullRequest}/comments`;
  }

  async #renew(body: string): Promise<void> {
    if (!this.#known) return;
    await this.#forge.call('PATCH', `/repos/${this.#repository}/issues/comments/${this.#known.id}`, { body });
    this.#known = { ...this.#known, body };
  }

  async #find(): Promise<void> {
    this.#author ??= await this.#forge.whoAmI();
    if (!this.#author) throw new ForgeError('it cannot be determined whose token it is');
    const seen = new Set<number>();
    for (let page = 1; ; page++) {
      const list = await this.#forge.call<readonly Listed[]>('GET', `${this.#comments}?per_page=100&page=${page}`);
      const fresh = list.filter(({ id }) => !seen.has(id));
      this.#known = fresh.find((one) => this.#isOwn(one));
      if (this.#known || fresh.length === 0) return;
      for (const { id } of fresh) seen.add(id);
    }
  }

  #isOwn({ body, user }: Listed): boolean {
    return plain(user?.login) === plain(this.#author) && body?.trimEnd().endsWith(this.#marker) === true;
  }
}
