/** What was changed in what a build rests on, statement by statement. */

import type { Declaration, Statement } from '../../model/statements.ts';
import type { Place } from '../../syntax/place.ts';
import type { Pairing } from './pairing.ts';
import type { Side, SideBuild } from './side.ts';

export interface Change {
  readonly kind: 'changed' | 'added' | 'removed';
  /** `motor M1606_3150` */
  readonly part: { readonly kind: string; readonly name: string };
  /** `resistance`, `load Lamp`, `rail video, output`; none for a whole part. */
  readonly what?: string;
  /** As written. */
  readonly before?: string;
  readonly after?: string;
  /** In the new version; in the old one when it is gone. */
  readonly place: Place;
  /** What makes this change alone in the old version; none when it is a part that comes or goes. */
  readonly edit?: { readonly place: Place; readonly newText: string };
}

/** Compares declarations once, however many builds rest on them. */
export class Changes {
  readonly #before: Side;
  readonly #after: Side;
  readonly #pairing: Pairing;
  readonly #known = new Map<string, readonly Change[]>();

  constructor(before: Side, after: Side, pairing: Pairing) {
    this.#before = before;
    this.#after = after;
    this.#pairing = pairing;
  }

  /** Of everything that a build rests on in either version; by file and line. */
  of(before: SideBuild | undefined, after: SideBuild | undefined): Change[] {
    const ids = new Set<string>();
    for (const { id } of before?.restsOn ?? []) ids.add(this.#pairing.toNew(id));
    for (const { id } of after?.restsOn ?? []) ids.add(id);
    return [...ids].flatMap((id) => this.#ofDeclaration(id)).sort(byPlace);
  }

  #ofDeclaration(id: string): readonly Change[] {
    const known = this.#known.get(id);
    if (known) return known;
    const before = this.#before.declarations.get(this.#pairing.toOld(id));
    const after = this.#after.declarations.get(id);
    const changes = before && after ? statementChanges(before, after) : wholeChange(before, after);
    this.#known.set(id, changes);
    return changes;
  }
}

/** Whether two versions of a build rest on the same text; only then can no number differ. */
export function restsOnTheSame(before: SideBuild, after: SideBuild): boolean {
  return fingerprint(before) === fingerprint(after);
}

function fingerprint({ restsOn }: SideBuild): string {
  return restsOn
    .map(({ kind, name, statements }) => `${kind} ${name}\n${statements.map(({ sense }) => sense).join('\n')}`)
    .join('\n\n');
}

function wholeChange(before: Declaration | undefined, after: Declaration | undefined): Change[] {
  const declaration = after ?? before;
  if (!declaration) return [];
  const { kind, name, place } = declaration;
  return [{ kind: after ? 'added' : 'removed', part: { kind, name }, place }];
}

function statementChanges(before: Declaration, after: Declaration): Change[] {
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
    if (previous.sense === statement.sense || previous.insertAt !== undefined) continue;
    changes.push({
      kind: 'changed',
      part,
      what: statement.key,
      before: previous.value,
      after: statement.value,
      place: statement.place,
      edit: { place: previous.place, newText: statement.text },
    });
  }
  for (const statement of withoutParts(come, now)) {
    const edit = { place: insertionPlace(before, old, statement), newText: inserted(before, statement) };
    changes.push({ kind: 'added', part, what: statement.key, after: statement.value, place: statement.place, edit });
  }
  for (const statement of withoutParts(gone, old)) {
    const edit = { place: statement.place, newText: '' };
    changes.push({ kind: 'removed', part, what: statement.key, before: statement.value, place: statement.place, edit });
  }
  return changes;
}

/** A statement of the same word that went is what a new one replaced: `pack: A` by `pack: B`. */
function takeReplaced(gone: Statement[], statement: Statement): Statement | undefined {
  const index = gone.findIndex(({ word, insertAt }) => word === statement.word && insertAt === undefined);
  return index < 0 || statement.insertAt !== undefined ? undefined : gone.splice(index, 1)[0];
}

/** The lines of a rail that comes or goes do so with it. */
function withoutParts(statements: readonly Statement[], all: ReadonlyMap<string, Statement>): Statement[] {
  return statements.filter(({ word }) => {
    const [rail] = /^rail \w*(?=, )/.exec(word) ?? [];
    const owner = rail === undefined ? undefined : all.get(rail);
    return !owner || !statements.includes(owner);
  });
}

function insertionPlace(before: Declaration, old: ReadonlyMap<string, Statement>, { key }: Statement): Place {
  const [rail] = /^rail \w*(?=, )/.exec(key) ?? [];
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
  compare(one.place.uri, other.place.uri) ||
  one.place.start - other.place.start ||
  compare(one.what ?? '', other.what ?? '');

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
