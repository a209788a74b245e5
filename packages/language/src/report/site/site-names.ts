/** Names of a site's files: by what they are about, so that a link lasts; the same on every disk. */
import { group } from 'd3-array';

/** Where a page lies in the site, with `/`. */
export type SitePath = string;

/** A link from one page to another; each part of a path is written as an address. */
export function linkBetween(from: SitePath, to: SitePath, anchor?: string): string {
  const up = '../'.repeat(from.split('/').length - 1);
  const path = to.split('/').map(encodeURIComponent).join('/');
  return `${up}${path}${anchor === undefined ? '' : `#${encodeURIComponent(anchor)}`}`;
}

interface Named {
  readonly name: string;
  readonly uri: string;
}

/** Which file belongs to which build and to which text. */
export class SiteNames {
  /** Of the folder that all texts are in, with `/` at its end. */
  readonly #root: string;
  readonly #stems = new Map<string, string>();

  constructor(builds: readonly Named[], uris: readonly string[]) {
    this.#root = commonFolder(uris);
    // Some file systems do not distinguish SPIRE from Spire.
    const groups = group(builds, ({ name }) => name.toLowerCase());
    for (const alike of groups.values()) {
      for (const { name, uri } of alike) {
        const path = this.pathOf(uri).replace(/\.fettle$/, '');
        this.#stems.set(keyOf(name, uri), alike.length === 1 ? name : `${path.replaceAll('/', '--')}--${name}`);
      }
    }
  }

  /** `builds/spire.fettle`, from the folder that all texts are in. */
  pathOf(uri: string): string {
    return decodeURIComponent(uri.startsWith(this.#root) ? uri.slice(this.#root.length) : uri);
  }

  /** A build that was not requested has none, also where its text is shown. */
  hasSheet({ name, uri }: Named): boolean {
    return this.#stems.has(keyOf(name, uri));
  }

  sheet({ name, uri }: Named): SitePath {
    return `builds/${this.#stem(name, uri)}.html`;
  }

  card({ name, uri }: Named): SitePath {
    return `cards/${this.#stem(name, uri)}.html`;
  }

  text(uri: string): SitePath {
    return `texts/${this.pathOf(uri)}.html`;
  }

  #stem(name: string, uri: string): string {
    return this.#stems.get(keyOf(name, uri)) ?? name;
  }
}

const keyOf = (name: string, uri: string): string => `${uri} ${name}`;

function commonFolder(uris: readonly string[]): string {
  const folders = uris.map((uri) => uri.split('/').slice(0, -1));
  const [first = []] = folders;
  const depth = first.findIndex((part, index) => folders.some((folder) => folder[index] !== part));
  return `${first.slice(0, depth < 0 ? first.length : depth).join('/')}/`;
}
