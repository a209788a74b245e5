/** Reads the log that it is given, piece by piece, and prints how long that took and how much memory the process needed. */
import { URI } from 'langium';
import { LogReader } from '../../packages/language/src/model/log/log-reader.ts';
import { NodeFiles } from '../../packages/language/src/workspace/node-files.ts';

const [path = ''] = process.argv.slice(2);
const start = performance.now();
const reader = new LogReader({ key: '', name: 'time', position: 0, scale: () => 1e-3 });
const decoder = new TextDecoder();
for (const piece of new NodeFiles().piecesSync(URI.file(path), 32 * 1024))
  reader.push(decoder.decode(piece, { stream: true }));
const { rows, times } = reader.finish();
const { maxRSS } = process.resourceUsage();
console.log(
  JSON.stringify({
    seconds: (performance.now() - start) / 1000,
    megabytes: maxRSS / 1024,
    rows,
    moments: times.length,
  }),
);
