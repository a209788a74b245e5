/**
 * Texts in the address, behind `#`: no server ever receives them. `#1.` and the changes as JSON, deflated, in base64url.
 * What somebody sends is a text and nothing else; whatever is not of this form is refused with a reason.
 */
import type { LinkContent } from './page-files.ts';
import { isPath } from './paths.ts';

/** Of the address; browsers and messengers cut longer ones. */
const LONGEST_LINK = 60_000;
/** Of all texts unpacked, in bytes: a few letters can unpack to gigabytes. */
const LARGEST = 2_000_000;
const MOST_FILES = 300;
const FORM = '#1.';

/** Undefined where the texts are too long for an address. */
export async function linkOf(changes: LinkContent): Promise<string | undefined> {
  const packed = await packedAs(
    new TextEncoder().encode(JSON.stringify(changes)),
    new CompressionStream('deflate-raw'),
  );
  const link = FORM + base64url(packed);
  return link.length > LONGEST_LINK ? undefined : link;
}

/**
 * What an address contains; nothing for one without texts.
 * @throws Error with a sentence for a person, where it cannot be read
 */
export async function changesIn(fragment: string): Promise<LinkContent | undefined> {
  if (fragment === '' || fragment === '#') return undefined;
  if (!fragment.startsWith(FORM)) throw new Error('The address does not contain a build.');
  if (fragment.length > LONGEST_LINK) throw new Error('The address is too long to be read.');
  let value: unknown;
  try {
    const bytes = bytesOf(fragment.slice(FORM.length));
    const json = await packedAs(bytes, new DecompressionStream('deflate-raw'), LARGEST);
    value = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(json));
  } catch (error) {
    if (error instanceof TooLarge) throw new Error('The address contains more text than this page reads.');
    throw new Error('The address is damaged: a part of it may have been cut off when it was sent.');
  }
  const changes = asChanges(value);
  if (changes === undefined) throw new Error('The address contains something else than builds.');
  return changes;
}

function asChanges(value: unknown): LinkContent | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const { files, open } = value as Record<string, unknown>;
  if (typeof files !== 'object' || files === null || Array.isArray(files)) return undefined;
  const entries = Object.entries(files);
  const isRight = entries.every(([path, text]) => isPath(path) && (text === null || typeof text === 'string'));
  if (!isRight || entries.length > MOST_FILES) return undefined;
  return { files: Object.fromEntries(entries), ...(isPath(open) && { open }) };
}

class TooLarge extends Error {}

async function packedAs(
  bytes: Uint8Array<ArrayBuffer>,
  through: CompressionStream | DecompressionStream,
  most = Number.POSITIVE_INFINITY,
): Promise<Uint8Array<ArrayBuffer>> {
  const reader = new Blob([bytes]).stream().pipeThrough(through).getReader();
  const parts: Uint8Array<ArrayBuffer>[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new TooLarge();
    }
    parts.push(value);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

function base64url(bytes: Uint8Array): string {
  let letters = '';
  for (const byte of bytes) letters += String.fromCharCode(byte);
  return btoa(letters).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  const letters = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
}
