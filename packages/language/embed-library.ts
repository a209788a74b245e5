/** Writes the shipped parts (`library/*.fettle`) into a module, so that they are there unbuilt, bundled and in a browser alike. */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';

const library = new URL('library/', import.meta.url);
const generated = new URL('src/workspace/generated/', import.meta.url);

const names = existsSync(library) ? readdirSync(library).filter((name) => name.endsWith('.fettle')) : [];
const files = names.sort().map((name) => ({ name, text: readFileSync(new URL(name, library), 'utf8') }));

mkdirSync(generated, { recursive: true });
writeFileSync(
  new URL('library.ts', generated),
  `// Made from library/*.fettle by embed-library.ts. Do not edit.
export const LIBRARY: readonly { readonly name: string; readonly text: string }[] = ${JSON.stringify(files, null, 2)};
`,
);
