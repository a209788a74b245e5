/** What was changed in what a build rests on, statement by statement. */
import { ascending } from 'd3-array';
import { URI, UriUtils } from 'langium';
import type { Declaration, Statement, StatementSort } from '../../model/statements.ts';
import type { Place } from '../../syntax/place.ts';
import type { Pairing } from './pairing.ts';
import type { Side, SideBuild } from './side.ts';

export interface Change {
  readonly kind: 'changed' | 'added' | 'removed';
  /** `motor M1606_3150` */
  readonly part: { readonly kind: string; readonly name: string };
  /** `resistance`, `load Lamp`, `rail video, output`; none for a whole part. */
  readonly what?: string;
  /** What that is; none for a whole part. */
  readonly sort?: StatementSort;
  /** As written. */
  readonly before?: string;
  readonly after?: string;
  /** In the new version; in the old one when it is gone. */
  readonly place: Place;
  /** What makes this change alone in the old version; none when it is a part that comes or goes, or what is in a log. */
  readonly edit?: { readonly place: Place; readonly newText: string };
}

/** Compares declarations once, however many builds rest on them. */
export class Changes {
  readonly #before: Side;
  readonly #after: Side;
  readonly #pairing: Pairing;
  readonly #differs: Differs;
  readonly #known = new Map<string, readonly Change[]>();

  constructor(before: Side, after: Side, pairing: Pairing, differs: Differs) {
    this.#before = before;
    this.#after = after;
    this.#pairing = pairing;
    this.#differs = differs;
  }

  /** Of everything that a build rests on in either version; by file and line. */
  of(before: SideBuild | undefined, after: SideBuild | undefined): Change[] {
    const idsOf = (under: (build: SideBuild) => readonly Declaration[]) => [
      ...(before ? under(before).map(({ id }) => this.#pairing.toNew(id)) : []),
      ...(after ? under(after).map(({ id }) => id) : []),
    ];
    const own = new Set(idsOf(({ restsOn }) => restsOn));
    const others = new Set(idsOf(({ learnsFrom }) => learnsFrom).filter((id) => !own.has(id)));
    const changes = [...own].flatMap((id) => this.#ofDeclaration(id));
    const taught = [...others]
      .flatMap((id) => this.#ofDeclaration(id))
      .filter(({ sort }) => sort === undefined || TEACHES[sort]);
    return [...changes, ...taught].sort(byPlace);
  }

  /** Of all shortlists that either version has, where these are requested; by file and line. */
  ofShortlists(isRequested: (uri: string) => boolean): Change[] {
    const ids = [
      ...[...this.#before.declarations.values()].filter(isShortlist).map(({ id }) => this.#pairing.toNew(id)),
      ...[...this.#after.declarations.values()].filter(isShortlist).map(({ id }) => id),
    ];
    return [...new Set(ids)]
      .flatMap((id) => this.#ofDeclaration(id))
      .filter(({ place }) => isRequested(place.uri))
      .sort(byPlace);
  }

  #ofDeclaration(id: string): readonly Change[] {
    const known = this.#known.get(id);
    if (known) return known;
    const before = this.#before.declarations.get(this.#pairing.toOld(id));
    const after = this.#after.declarations.get(id);
    const changes = before && after ? statementChanges(before, after, this.#differs) : wholeChange(before, after);
    this.#known.set(id, changes);
    return changes;
  }
}

const isShortlist = ({ kind }: Declaration): boolean => kind === 'shortlist';

/** Whether a log, by its URI, is another one in the two versions. */
type Differs = (uri: string) => boolean;

/** Whether two versions of a build rest on the same text and the same logs; only then can no number differ. */
export function restsOnTheSame(before: SideBuild, after: SideBuild, differs: Differs): boolean {
  return fingerprint(before) === fingerprint(after) && !logsOf(after).some(differs);
}

/** Whether what is learnt from a build depends on it: what is required of a build, or accepted, is not used for another one. */
const TEACHES: Readonly<Record<StatementSort, boolean>> = {
  like: true,
  rules: true,
  property: true,
  rail: true,
  'line of a rail': true,
  require: false,
  keep: false,
  accept: false,
  severity: false,
  observed: true,
  rows: true,
  unknown: true,
};

const logsOf = ({ restsOn, learnsFrom }: SideBuild): string[] =>
  [...restsOn, ...learnsFrom].flatMap(({ statements }) => statements.flatMap(({ reads }) => reads ?? []));

function fingerprint({ restsOn, learnsFrom }: SideBuild): string {
  const text = ({ kind, name }: Declaration, statements: readonly Statement[]) =>
    `${kind} ${name}\n${statements.map(({ sense }) => sense).join('\n')}`;
  return [
    ...restsOn.map((one) => text(one, one.statements)),
    ...learnsFrom.map((one) =>
      text(
        one,
        one.statements.filter(({ sort }) => TEACHES[sort]),
      ),
    ),
  ].join('\n\n');
}

function wholeChange(before: Declaration | undefined, after: Declaration | undefined): Change[] {
  const declaration = after ?? before;
  if (!declaration) return [];
  const { kind, name, place } = declaration;
  return [{ kind: after ? 'added' : 'removed', part: { kind, name }, place }];
}

function statementChanges(before: Declaration, after: Declaration, differs: Differs): Change[] {
  const old = new Map(before.statements.map((statement) => [statement.key, statement]));
  const now = new Map(after.statements.map((statement) => [statement.key, statement]));
  const gone = [...old.values()].filter(({ key }) => !now.has(key));
  const come = [...now.values()].filter(({ key }) => !old.has(key));
  const part = { kind: after.kind, name: after.name };
  const changes: Change[] = [];
  for (const [key, statement] of now) {
    const previous = old.get(key) ?? takeReplaced(gone, statement);
    if (!previous) continue;
    if (come.includes(statement)) come.splice(come.indexOf(statement), 1);
    const isOtherLog = statement.reads !== undefined && differs(statement.reads);
    const { sort, place } = statement;
    if (isOtherLog) changes.push({ kind: 'changed', part, what: logIn(statement), sort, place });
    if (previous.sense === statement.sense || previous.insertAt !== undefined) continue;
    changes.push({
      kind: 'changed',
      part,
      what: statement.key,
      sort,
      before: previous.value,
      after: statement.value,
      place,
      // The old version has no such log.
      ...(isOtherLog ? {} : { edit: { place: previous.place, newText: statement.text } }),
    });
  }
  for (const statement of withoutParts(come, now)) {
    const edit = { place: insertionPlace(before, old, statement), newText: inserted(before, statement) };
    changes.push({
      kind: 'added',
      part,
      what: statement.key,
      sort: statement.sort,
      after: statement.value,
      place: statement.place,
      ...(statement.reads !== undefined && differs(statement.reads) ? {} : { edit }),
    });
  }
  for (const statement of withoutParts(gone, old)) {
    const { key, sort, value, place } = statement;
    changes.push({ kind: 'removed', part, what: key, sort, before: value, place, edit: { place, newText: '' } });
  }
  return changes;
}

/** `rows of 2026-05-21.csv` */
const logIn = ({ reads = '' }: Statement): string => `rows of ${UriUtils.basename(URI.parse(reads))}`;

/** A statement of the same word that went is what a new one replaced: `pack: A` by `pack: B`. */
function takeReplaced(gone: Statement[], statement: Statement): Statement | undefined {
  const index = gone.findIndex(({ word, insertAt }) => word === statement.word && insertAt === undefined);
  return index < 0 || statement.insertAt !== undefined ? undefined : gone.splice(index, 1)[0];
}

/** The lines of a rail that comes or goes do so with it. */
function withoutParts(statements: readonly Statement[], all: ReadonlyMap<string, Statement>): Statement[] {
  return statements.filter(({ rail }) => {
    const owner = rail === undefined ? undefined : all.get(rail);
    return !owner || !statements.includes(owner);
  });
}

function insertionPlace(before: Declaration, old: ReadonlyMap<string, Statement>, { key, rail }: Statement): Place {
  const header = key === 'like' ? before.headerEnd : before.insertAt;
  const offset = (rail === undefined ? undefined : old.get(rail)?.insertAt) ?? header;
  return { uri: before.place.uri, start: offset, end: offset };
}

function inserted(before: Declaration, statement: Statement): string {
  const text = statement.insertAt === undefined ? statement.text : statement.value;
  if (statement.key === 'like') return ` ${text} `;
  return before.hasBlock ? `\n${text}\n` : ` {\n${text}\n}`;
}

const byPlace = (one: Change, other: Change): number =>
  ascending(one.place.uri, other.place.uri) ||
  one.place.start - other.place.start ||
  ascending(one.what ?? '', other.what ?? '');
