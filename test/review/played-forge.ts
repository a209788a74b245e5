/** As much of a forge as the action talks to, on the loopback address. */
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { gunzipSync } from 'node:zlib';

export interface Comment {
  readonly id: number;
  body: string;
  readonly user: { readonly login: string };
}

export interface Answer {
  readonly status: number;
  readonly headers?: Readonly<Record<string, string>>;
  /** Whether the request is done all the same. */
  readonly isDone?: boolean;
}

export class PlayedForge implements AsyncDisposable {
  readonly comments: Comment[] = [];
  /** `POST /repos/group/craft/issues/7/comments`, in the order in which they came. */
  readonly calls: string[] = [];
  readonly uploads: { readonly commit_sha: string; readonly ref: string; readonly log: unknown }[] = [];
  /** Whose token is used. */
  login = 'github-actions[bot]';
  /** What is answered in place of the usual, for a question that begins so; the first one that fits is used up. */
  readonly instead: { readonly to: RegExp; readonly answer: Answer; readonly isForGood?: true }[] = [];
  /** Is called with every request before it is answered. */
  onCall: (call: string) => void = () => undefined;
  readonly #server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      const { pathname, searchParams } = new URL(request.url ?? '', 'http://forge');
      const call = `${request.method} ${pathname}`;
      this.calls.push(call);
      const sent = chunks.length > 0 ? JSON.parse(Buffer.concat(chunks).toString()) : {};
      const planned = this.instead.find(({ to }) => to.test(call));
      if (planned && !planned.isForGood) this.instead.splice(this.instead.indexOf(planned), 1);
      const usual = !planned || planned.answer.isDone ? this.#answer(call, sent, Number(searchParams.get('page'))) : {};
      this.onCall(call);
      if (planned) response.writeHead(planned.answer.status, planned.answer.headers).end('{}');
      else response.end(JSON.stringify(usual));
    });
  });

  static async start(): Promise<PlayedForge> {
    const forge = new PlayedForge();
    await new Promise<void>((resolve) => forge.#server.listen(0, '127.0.0.1', resolve));
    return forge;
  }

  get url(): string {
    return `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}`;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  /** Nothing can be written with the token. */
  readOnly(): void {
    this.instead.push({ to: /^(POST|PATCH) \/repos/, answer: { status: 403 }, isForGood: true });
  }

  #answer(call: string, sent: { body?: string; sarif?: string } & Record<string, string>, page: number): unknown {
    if (call === 'POST /graphql') return { data: { viewer: { login: this.login } } };
    if (call.startsWith('GET')) return this.comments.slice((page - 1) * 100, page * 100);
    if (call.endsWith('/code-scanning/sarifs')) {
      const log = JSON.parse(gunzipSync(Buffer.from(sent.sarif ?? '', 'base64')).toString());
      this.uploads.push({ commit_sha: sent.commit_sha ?? '', ref: sent.ref ?? '', log });
      return { id: '1' };
    }
    const known = this.comments.find(({ id }) => id === Number(call.split('/').at(-1)));
    if (known) known.body = sent.body ?? '';
    else this.comments.push({ id: this.comments.length + 1, body: sent.body ?? '', user: { login: this.login } });
    return {};
  }
}
