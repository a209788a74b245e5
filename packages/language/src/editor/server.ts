/** The language server in one file, for Node and for a browser's worker. What both need is loaded at once, what one of them needs only there. */
import './start.ts';

// Of a browser's workers, and of no thread of Node.
if ('importScripts' in globalThis) void import('./server-web.ts');
else void import('./server-node.ts');
