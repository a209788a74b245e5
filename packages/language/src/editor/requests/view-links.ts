/** Where what a view shows leads. */
import { type LangiumDocuments, URI, UriUtils } from 'langium';
import { type Markup, markup } from '../../report/present/markup.ts';
import type { Ways } from '../../report/sheet/sheet-sections.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import type { Place } from '../../syntax/place.ts';
import { documentOfPlace, rangeOf } from '../place-ranges.ts';
import type { SheetTarget } from './protocol.ts';

/** A link has the number of its target: the view that shows it never has to be believed about a file. */
export class Links implements Ways {
  readonly targets: SheetTarget[] = [];
  readonly #documents: LangiumDocuments;

  constructor(documents: LangiumDocuments) {
    this.#documents = documents;
  }

  where(place: Place): string {
    const document = documentOfPlace(place, this.#documents);
    const name = UriUtils.basename(URI.parse(place.uri));
    return document === undefined ? name : `${name}:${rangeOf(document, place.start, place.end).start.line + 1}`;
  }

  readonly toPlace = ({ uri, start, end }: Place): Markup | undefined => {
    const document = this.#documents.getDocument(URI.parse(uri));
    // Nobody can open the library.
    if (document === undefined || document.uri.scheme === LIBRARY_SCHEME) return undefined;
    return this.to({ uri, range: rangeOf(document, start, end) });
  };

  toDerivation(pack: string, result: string): Markup {
    return this.to({ pack, result });
  }

  to(target: SheetTarget): Markup {
    return markup` data-go="${this.targets.push(target) - 1}"`;
  }
}
