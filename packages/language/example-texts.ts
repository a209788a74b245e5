/** The example craft, as the extension and the page to try bring them along. */
import { globSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const examples = fileURLToPath(new URL('../../examples/', import.meta.url));

/** JSON: the text of each file by its path. */
export function exampleTexts(pattern: string): string {
  const texts = globSync(pattern, { cwd: examples })
    .map((path) => path.replaceAll('\\', '/'))
    .sort()
    .map((path) => [path, readFileSync(`${examples}${path}`, 'utf8')]);
  return JSON.stringify(Object.fromEntries(texts));
}
