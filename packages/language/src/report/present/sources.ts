import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Place } from '../../syntax/place.ts';

/** 1-based, columns in UTF-16 units: what terminals and editors print and jump to. */
interface Position {
  readonly line: number;
  readonly column: number;
}

export interface LineExcerpt {
  readonly start: Position;
  readonly end: Position;
  /** The first line of the place, without its line break. */
  readonly text: string;
}

interface Loaded {
  readonly uri: { toString(): string };
  readonly textDocument: TextDocument;
}

/** Texts of the files that findings point into. */
export class Sources {
  readonly #documents = new Map<string, TextDocument>();

  static of(documents: Iterable<Loaded>): Sources {
    const sources = new Sources();
    for (const { uri, textDocument } of documents) sources.add(uri.toString(), textDocument.getText());
    return sources;
  }

  add(uri: string, text: string): void {
    this.#documents.set(uri, TextDocument.create(uri, 'fettle', 0, text));
  }

  /** Undefined for a text that was never loaded (the library that ships with the language). */
  excerpt(place: Place): LineExcerpt | undefined {
    const document = this.#documents.get(place.uri);
    if (!document) return undefined;
    const start = document.positionAt(place.start);
    const end = document.positionAt(place.end);
    const text = document.getText({
      start: { line: start.line, character: 0 },
      end: { line: start.line + 1, character: 0 },
    });
    return {
      start: { line: start.line + 1, column: start.character + 1 },
      end: { line: end.line + 1, column: end.character + 1 },
      text: text.replace(/\r?\n$/, ''),
    };
  }

  /** What is there, white space folded; empty for a text that was never loaded. */
  words({ uri, start, end }: Place): string {
    const text = this.#documents.get(uri)?.getText() ?? '';
    return text.slice(start, end).replace(/\s+/g, ' ').trim();
  }
}

/** How files are named, and their texts. */
export interface NamedSources {
  readonly sources: Sources;
  pathOf(uri: string): string;
}

/** `parts/packs.fettle:17`; of a text that was never loaded the path. */
export function pathAndLine({ sources, pathOf }: NamedSources, place: Place): string {
  const start = sources.excerpt(place)?.start;
  return start ? `${pathOf(place.uri)}:${start.line}` : pathOf(place.uri);
}

/** `parts/packs.fettle:17:13` */
export function pathAndColumn(named: NamedSources, place: Place): string {
  const column = named.sources.excerpt(place)?.start.column;
  return `${pathAndLine(named, place)}${column === undefined ? '' : `:${column}`}`;
}
