/** The language server in a worker. The client library refuses what the server requests of it, so that is answered below it. */
import type { Transport } from '@codemirror/lsp-client';
import { fieldsOf } from '../../extension/src/sheet/view-messages.ts';
import type { PageFiles } from './page-files.ts';
import { pagePath, pageUri } from './paths.ts';

interface Message {
  readonly id?: number | string;
  readonly method?: string;
  readonly params?: unknown;
}

/** @param answerTo what the server requests; undefined for what the page does not know */
export function workerTransport(worker: Worker, answerTo: (method: string, params: unknown) => unknown): Transport {
  const handlers = new Set<(message: string) => void>();
  worker.addEventListener('message', ({ data }: MessageEvent<Message>) => {
    if (data.id !== undefined && data.method !== undefined) {
      const result = answerTo(data.method, data.params);
      const known = { jsonrpc: '2.0', id: data.id, result };
      const unknown = {
        jsonrpc: '2.0',
        id: data.id,
        error: { code: -32601, message: `${data.method} is not known here` },
      };
      worker.postMessage(result === undefined ? unknown : known);
      return;
    }
    const message = JSON.stringify(data);
    for (const handler of handlers) handler(message);
  });
  return {
    send: (message) => worker.postMessage(JSON.parse(message)),
    subscribe: (handler) => handlers.add(handler),
    unsubscribe: (handler) => handlers.delete(handler),
  };
}

/** Requests of a server without a disk: the files, as the page has them; and those that every client answers. */
export function answersFrom(files: PageFiles): (method: string, params: unknown) => unknown {
  return (method, params) => {
    switch (method) {
      case 'fettle/listFiles':
        return { uris: files.paths.map(pageUri) };
      case 'fettle/readFile': {
        const { uri } = fieldsOf(params);
        const path = typeof uri === 'string' ? pagePath(uri) : undefined;
        const text = path === undefined ? undefined : files.text(path);
        return text === undefined ? undefined : { text };
      }
      case 'workspace/configuration': {
        const { items } = fieldsOf(params);
        return Array.isArray(items) ? items.map(() => null) : undefined;
      }
      case 'client/registerCapability':
      case 'client/unregisterCapability':
      case 'window/workDoneProgress/create':
        return null;
      default:
        return undefined;
    }
  };
}
