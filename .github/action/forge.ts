/** Questions to the forge. What passes by itself (too many questions, a server that is being restarted) is asked again. */
import { setTimeout as wait } from 'node:timers/promises';

/** For one answer, ms. */
const PATIENCE = 30_000;
const TRIES = 4;
/** Between tries where the forge names no time, s; doubled each time. */
const PAUSE = 1;
/** A longer wait costs more than the comment is worth, s. */
const LONGEST_PAUSE = 60;

export class ForgeError extends Error {
  /** None where no answer came. */
  readonly status: number | undefined;
  /** Whether the same question may well be answered later, and after how many seconds where the forge states it. */
  readonly isPassing: boolean;
  readonly pause: number | undefined;

  constructor(message: string, status?: number, isPassing = false, pause?: number) {
    super(message);
    this.status = status;
    this.isPassing = isPassing;
    this.pause = pause;
  }

  /** Whether the question may have been acted on all the same. */
  get isUnsure(): boolean {
    return this.status === undefined || this.status >= 500;
  }
}

export interface ForgeOptions {
  /** `https://api.github.com` */
  readonly url: string;
  readonly graphql: string;
  readonly token: string;
}

export class Forge {
  readonly #options: ForgeOptions;

  constructor(options: ForgeOptions) {
    this.#options = options;
  }

  /** Asks until there is an answer. For what may be done twice without harm. */
  call<T = unknown>(method: string, path: string, content?: unknown): Promise<T> {
    return again(() => this.#once<T>(method, `${this.#options.url}${path}`, content));
  }

  /** One try at what must not be done twice. */
  post(path: string, content: unknown): Promise<unknown> {
    return this.#once('POST', `${this.#options.url}${path}`, content);
  }

  /** Whose token it is: `github-actions[bot]`. */
  async whoAmI(): Promise<string | undefined> {
    const query = { query: 'query { viewer { login } }' };
    try {
      const { data } = await again(() =>
        this.#once<{ data?: { viewer?: { login?: string } } }>('POST', this.#options.graphql, query),
      );
      if (data?.viewer?.login) return data.viewer.login;
    } catch (error) {
      if (!(error instanceof ForgeError) || error.status === undefined) throw error;
    }
    // Forges of the same questions, but without that one.
    return (await this.call<{ login?: string }>('GET', '/user')).login;
  }

  async #once<T>(method: string, url: string, content?: unknown): Promise<T> {
    const response = await this.#send(method, url, content);
    if (!response.ok) throw refused(response);
    try {
      return (await response.json()) as T;
    } catch (error) {
      throw new ForgeError(`the forge answers what is no JSON (${networkReason(error)})`, response.status);
    }
  }

  async #send(method: string, url: string, content: unknown): Promise<Response> {
    try {
      return await fetch(url, {
        method,
        signal: AbortSignal.timeout(PATIENCE),
        headers: {
          accept: 'application/vnd.github+json',
          authorization: `Bearer ${this.#options.token}`,
          'content-type': 'application/json',
          'x-github-api-version': '2022-11-28',
        },
        ...(content !== undefined && { body: JSON.stringify(content) }),
      });
    } catch (error) {
      throw new ForgeError(networkReason(error), undefined, true);
    }
  }
}

export async function again<T>(ask: () => Promise<T>): Promise<T> {
  for (let tried = 1; ; tried++) {
    try {
      return await ask();
    } catch (error) {
      const pause = error instanceof ForgeError ? (error.pause ?? PAUSE * 2 ** (tried - 1)) : 0;
      if (!(error instanceof ForgeError) || !error.isPassing || tried === TRIES || pause > LONGEST_PAUSE) throw error;
      await wait(pause * 1000);
    }
  }
}

const PASSING: ReadonlySet<number> = new Set([408, 429, 500, 502, 503, 504]);

function refused({ status, headers }: Response): ForgeError {
  const seconds = (name: string): number | undefined => {
    const text = headers.get(name);
    const number = text === null ? Number.NaN : Number(text);
    return Number.isFinite(number) ? Math.max(0, number) : undefined;
  };
  // A forge that has had enough of questions may call it forbidden.
  const isUsedUp = (status === 403 || status === 429) && headers.get('x-ratelimit-remaining') === '0';
  const reset = isUsedUp ? seconds('x-ratelimit-reset') : undefined;
  const pause = seconds('retry-after') ?? (reset === undefined ? undefined : Math.max(0, reset - Date.now() / 1000));
  const isPassing = PASSING.has(status) || isUsedUp || (status === 403 && pause !== undefined);
  return new ForgeError(`the forge answers ${status}`, status, isPassing, pause);
}

/** What `fetch` reports of a network is in the cause. */
export function networkReason(error: unknown): string {
  const { message, cause } = error as { message?: string; cause?: { code?: string; message?: string } };
  return [message, cause?.code ?? cause?.message].filter(Boolean).join(': ');
}
