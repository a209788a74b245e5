/** Everything that a site shows in addition to builds and findings, as plain data: the texts with the meaning of each word, the parts and who uses them. */
import { ascending } from 'd3-array';
import type { LangiumDocument } from 'langium';
import { buildsUsing } from '../../resolve/builds-using.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import type { FettleIndex } from '../../resolve/name-index.ts';
import { type Meaning, meantWords } from '../../syntax/meanings.ts';
import { namePlace } from '../../syntax/nodes.ts';
import type { Place } from '../../syntax/place.ts';
import { uriOf } from '../../syntax/source.ts';

export interface SiteWord {
  readonly start: number;
  readonly end: number;
  readonly type: Meaning['type'];
  /** The part that it names: where it is declared, and by which name. */
  readonly target?: { readonly uri: string; readonly name: string };
  /** It is the name that a part is declared by. */
  readonly declares?: string;
}

export interface SiteText {
  readonly uri: string;
  readonly text: string;
  /** In order of the text. */
  readonly words: readonly SiteWord[];
}

export interface SitePart {
  readonly kind: string;
  readonly name: string;
  readonly title?: string;
  /** Of its name. */
  readonly place: Place;
  readonly usedBy: readonly { readonly name: string; readonly uri: string }[];
}

export interface SiteData {
  readonly texts: readonly SiteText[];
  /** By kind, then name; builds are not among them. */
  readonly parts: readonly SitePart[];
}

/** @param documents of the site, linked: all that were loaded, without those of the library */
export function siteData(documents: readonly LangiumDocument[], index: FettleIndex): SiteData {
  const shown = new Set(documents.map(({ uri }) => uri.toString()));
  const entries = [...index.all()].filter(({ file }) => shown.has(file));
  const declared = new Map(entries.map(({ part, name }) => [namePlace(part).start + namePlace(part).uri, name]));
  return {
    texts: documents.map((document) => {
      const uri = document.uri.toString();
      // A name that is declared twice leads to its first place.
      const seen = new Set<string>();
      const firstOf = (name: string | undefined) =>
        name === undefined || seen.has(name) ? undefined : seen.add(name) && name;
      const words = meantWords(document).map(({ start, end, meaning, part }): SiteWord => {
        const name = part && shown.has(uriOf(part)) ? part.name : undefined;
        const target = part && name !== undefined ? { uri: uriOf(part), name } : undefined;
        const declares = firstOf(meaning.modifier === 'declaration' ? declared.get(start + uri) : undefined);
        return { start, end, type: meaning.type, ...(target && { target }), ...(declares && { declares }) };
      });
      return { uri, text: document.textDocument.getText(), words };
    }),
    parts: entries
      .filter(({ kind }) => kind !== 'build')
      .map(
        ({ kind, name, part }): SitePart => ({
          kind,
          name,
          ...(part.title !== undefined && { title: part.title }),
          place: namePlace(part),
          usedBy: buildsUsing(part, index).flatMap((build) =>
            build.name !== undefined && shown.has(uriOf(build)) ? [{ name: build.name, uri: uriOf(build) }] : [],
          ),
        }),
      )
      .sort((a, b) => ascending(a.kind, b.kind) || ascending(a.name, b.name) || ascending(a.place.uri, b.place.uri)),
  };
}

export const isOfLibrary = ({ uri }: LangiumDocument): boolean => uri.scheme === LIBRARY_SCHEME;
