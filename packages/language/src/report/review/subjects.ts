/** What a finding is about, reported alike in both versions: only findings about the same are one finding before and after. */

import type { Finding } from '../../checks/finding.ts';
import type { Build } from '../../model/build.ts';
import type { Named } from '../../model/named.ts';
import { type Declaration, declarationsOf, type Statement } from '../../model/statements.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import { isSameStart, type Place } from '../../syntax/place.ts';
import { atLeast } from '../../vocabulary/severities.ts';
import { withoutNumbers } from '../present/report-words.ts';
import type { Sources } from '../present/sources.ts';
import { requiredAt } from './required.ts';
import type { Side } from './side.ts';

export interface Subject {
  /** The line that it is at, white space folded: the same line may have moved. */
  readonly line: string;
  /** Without its numbers. */
  readonly message: string;
  /** What it is found in. */
  readonly home: Home;
  /** What the requirement or margin behind it limits; empty where there is none. */
  readonly asked: string;
  /** Parts, rails and loads that it names, the one that it is about first. */
  readonly names: readonly string[];
  /** The words that are wrong, of a finding about the text. */
  readonly wrong?: string;
  /** Nothing that anybody has to decide. */
  readonly isMinor: boolean;
}

interface Home {
  /** Identity in the new version of the declaration, or of the file outside of all. */
  readonly id: string;
  /** Whether only one version has it. */
  readonly isAlone: boolean;
  /** Of the statement. */
  readonly key: string;
}

export interface Spot {
  readonly declaration: Declaration;
  readonly statement?: Statement;
}

/** Of one version. */
export class Subjects {
  readonly #documents: ReadonlyMap<string, FileDocument>;
  readonly #sources: Sources;
  /** From a declaration of this version to that of the new one, where there is one. */
  readonly #toNew: (one: Declaration) => Declaration;
  readonly #isInBoth: (id: string) => boolean;

  constructor(
    side: Side,
    sources: Sources,
    toNew: (one: Declaration) => Declaration,
    isInBoth: (id: string) => boolean,
  ) {
    this.#documents = new Map(side.documents.map((document) => [document.uri.toString(), document]));
    this.#sources = sources;
    this.#toNew = toNew;
    this.#isInBoth = isInBoth;
  }

  /** Where in the text of this version. */
  spotOf({ uri, start, end }: Place): Spot | undefined {
    const document = this.#documents.get(uri);
    const declaration =
      document && declarationsOf(document).find(({ whole }) => whole.start <= start && end <= whole.end);
    if (!declaration) return undefined;
    const [statement] = declaration.statements
      .filter(({ place }) => place.start <= start && end <= place.end)
      .sort((one, other) => one.place.end - one.place.start - (other.place.end - other.place.start));
    return { declaration, ...(statement && { statement }) };
  }

  ofText(finding: Finding): Subject {
    const { place } = finding;
    const spot = this.spotOf(place);
    const id = spot ? this.#toNew(spot.declaration).id : this.#fileId(place.uri);
    return {
      ...this.#plain(finding),
      home: { id, isAlone: !this.#isInBoth(id), key: spot?.statement?.word ?? '' },
      asked: '',
      names: [],
      wrong: this.#sources.words(place),
    };
  }

  ofBuild(finding: Finding, build: Build): Subject {
    const [first] = finding.related;
    const isElsewhere = first !== undefined && isSameStart(finding.place, build.place) && first.place.uri !== build.uri;
    const spot = this.spotOf(isElsewhere ? first.place : finding.place);
    const isBuild = spot === undefined || spot.declaration.kind === 'build';
    const { key = '', word = '' } = spot?.statement ?? {};
    const places = [finding.place, ...finding.related.map(({ place }) => place)];
    const asked = places.map((place) => requiredAt(build, place)).find((one) => one !== undefined) ?? '';
    return {
      ...this.#plain(finding),
      home: {
        id: isBuild ? '' : this.#toNew(spot.declaration).id,
        isAlone: false,
        // On which pack is known besides.
        key: asked !== '' || word === 'pack' ? '' : withoutNumbers(key),
      },
      asked,
      // On which pack is known besides.
      names: finding.names.filter(({ kind }) => kind !== 'pack').map((one) => this.#newName(one)),
    };
  }

  #plain(finding: Finding): Pick<Subject, 'line' | 'message' | 'isMinor'> {
    return {
      line: (this.#sources.excerpt(finding.place)?.text ?? '').replace(/\s+/g, ' '),
      message: withoutNumbers(finding.message),
      isMinor: !atLeast(finding.severity, 'warning'),
    };
  }

  /** A part may have another name in the new version. */
  #newName({ name, place }: Named): string {
    const declaration = this.spotOf(place)?.declaration;
    return declaration && isSameStart(declaration.place, place) ? this.#toNew(declaration).name : name;
  }

  /** A file is where its first declaration is. */
  #fileId(uri: string): string {
    const document = this.#documents.get(uri);
    const [first] = document ? declarationsOf(document) : [];
    return first ? this.#toNew(first).place.uri : uri;
  }
}

export function isSameSubject(one: Subject, other: Subject): boolean {
  if (one.wrong !== undefined) return isSameMistake(one, other);
  if (one.asked !== other.asked) return false;
  const [name, otherName] = [one.names[0], other.names[0]];
  if (name === undefined || otherName === undefined || (one.isMinor && other.isMinor)) return isSameHome(one, other);
  return name === otherName || (isSameHome(one, other) && one.names.includes(otherName));
}

function isSameMistake(one: Subject, other: Subject): boolean {
  if (one.message !== other.message && one.wrong !== other.wrong) return false;
  // A part under another name has the same lines.
  return isSameHome(one, other) || (one.home.isAlone && other.home.isAlone && one.line === other.line);
}

const isSameHome = ({ home: one }: Subject, { home: other }: Subject): boolean =>
  one.id === other.id && one.key === other.key;
