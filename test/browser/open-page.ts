/** The page to try, served from its folder on the loopback address, in Debian's Chromium. */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

export const CHROMIUM = process.env.FETTLE_CHROMIUM ?? '/usr/bin/chromium';
export const hasChromium = existsSync(CHROMIUM);
const DIST = join(import.meta.dirname, '../../packages/playground/dist');

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
  '.md': 'text/markdown; charset=utf-8',
};

/** A plain server of files, as any host of static pages is. */
export async function serve(folder: string): Promise<{ server: Server; address: string }> {
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    const file = join(folder, normalize(path.endsWith('/') ? `${path}index.html` : path));
    if (!file.startsWith(folder) || !existsSync(file) || statSync(file).isDirectory()) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'application/octet-stream' });
    response.end(readFileSync(file));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return { server, address: `http://127.0.0.1:${(server.address() as AddressInfo).port}` };
}

/** What a page did beyond its own files, and what went wrong in it. */
export interface Watched {
  readonly page: Page;
  readonly elsewhere: string[];
  readonly problems: string[];
}

export class Playground {
  readonly address: string;
  readonly #server: Server;
  readonly #browser: Browser;

  private constructor(server: Server, address: string, browser: Browser) {
    this.#server = server;
    this.address = address;
    this.#browser = browser;
  }

  static async start(): Promise<Playground> {
    const { server, address } = await serve(DIST);
    const browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
    return new Playground(server, address, browser);
  }

  async open(fragment = '', options: BrowserContextOptions = {}): Promise<Watched> {
    const context = await this.#browser.newContext({ viewport: { width: 1400, height: 900 }, ...options });
    const page = await context.newPage();
    const watched: Watched = { page, elsewhere: [], problems: [] };
    page.on('request', (request) => {
      const url = request.url();
      if (!url.startsWith(`${this.address}/`) && !url.startsWith(`blob:${this.address}/`)) watched.elsewhere.push(url);
    });
    page.on('console', (message) => {
      if (message.type() === 'error') watched.problems.push(message.text());
    });
    page.on('pageerror', (error) => watched.problems.push(String(error)));
    await page.goto(`${this.address}/${fragment}`);
    return watched;
  }

  async closePages(): Promise<void> {
    await Promise.all(this.#browser.contexts().map((context) => context.close()));
  }

  async stop(): Promise<void> {
    await this.#browser.close();
    this.#server.close();
  }
}
