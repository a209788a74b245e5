/** `fettle list`: what there is, and who uses what. */

import { ascending } from 'd3-array';
import { type Bought, fittedIn, sparesOf, summed } from '../analysis/setup/price-sum.ts';
import { readDocument } from '../checks/text/read-document.ts';
import type { PartNode } from '../grammar/generated/ast.ts';
import { partKey } from '../model/identities.ts';
import { slotsOf } from '../model/slots.ts';
import { failuresOf } from '../report/checked.ts';
import { columns } from '../report/present/display-width.ts';
import { jsonText } from '../report/present/json-text.ts';
import { buildsUsing } from '../resolve/builds-using.ts';
import { documentOf, type FileDocument, namePlace } from '../syntax/nodes.ts';
import { startKey } from '../syntax/place.ts';
import { formatValue } from '../units/print.ts';
import { listed, plural } from '../vocabulary/phrasing.ts';
import { loadPaths } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices, type Services } from '../workspace/services.ts';
import { pathOf, worstOf } from './checked-files.ts';
import type { ListFormat } from './formats.ts';
import { buildNamed, checkedAt } from './named-builds.ts';
import { complain, notThere } from './refuse.ts';

interface Listed {
  readonly kind: string;
  readonly name: string;
  readonly title?: string;
  /** `parts/motors.fettle:6:7` */
  readonly place: string;
}

interface ListedPart extends Listed {
  readonly usedBy: readonly string[];
}

interface ListedBuild extends Listed {
  readonly packs: readonly string[];
}

export async function listParts(paths: readonly string[], format: ListFormat): Promise<number> {
  const { services, documents, code } = await load(paths);
  const parts = namedParts(documents)
    .filter(({ kind }) => kind !== 'build')
    .map((part): ListedPart => ({ ...lineOf(part), usedBy: buildsUsing(part, indexOf(services)).map(nameOf) }))
    .sort((a, b) => ascending(a.kind, b.kind) || ascending(a.name, b.name) || ascending(a.place, b.place));
  print(format, parts, ({ kind, name, title, place, usedBy }) => [
    kind,
    name,
    title ?? '',
    usedBy.length === 0 ? 'in no build' : `in ${plural(usedBy.length, 'build')}`,
    place,
  ]);
  return code;
}

export async function listBuilds(paths: readonly string[], format: ListFormat): Promise<number> {
  const { documents, code } = await load(paths);
  const packs = new Map(
    documents.flatMap((document) =>
      readDocument(document).builds.map((build): [string, string[]] => [
        startKey(build.place),
        build.packs.map(({ name }) => name),
      ]),
    ),
  );
  const builds = namedParts(documents)
    .filter(({ kind }) => kind === 'build')
    .map((part): ListedBuild => ({ ...lineOf(part), packs: packs.get(startKey(namePlace(part))) ?? [] }));
  print(format, builds, ({ name, title, packs: on, place }) => [name, title ?? '', on.join(', '), place]);
  return code;
}

interface ListedPurchase {
  readonly kind: string;
  readonly name: string;
  readonly count: number;
  /** Of one; absent where the part states none. */
  readonly price?: Price;
}

interface Price {
  readonly value: number;
  readonly currency: string;
}

interface Purchases {
  readonly builds: readonly string[];
  readonly parts: readonly ListedPurchase[];
  /** One for each currency. */
  readonly totals: readonly Price[];
  readonly withoutPrice: number;
}

/** What builds are made of, with their packs and spares. A pack or a spare that several of them need is bought once. */
export async function listPurchases(
  names: readonly string[],
  paths: readonly string[],
  format: ListFormat,
): Promise<number> {
  const checked = await checkedAt(paths, names);
  const builds = names.map((name) => buildNamed(name, checked).build);
  const fitted = builds.flatMap(fittedIn);
  const shared = builds.map((build) => mostOf(slotsOf(build, ['packs'])).concat(sparesOf(build)));
  const rows = summed([...fitted, ...mostOf(shared.flatMap(summed))])
    .map(({ part, count }): ListedPurchase => {
      const price = part.declared('price');
      return {
        kind: part.kind,
        name: part.name,
        count,
        ...(price && { price: { value: price.value, currency: price.unit } }),
      };
    })
    .sort((a, b) => ascending(a.kind, b.kind) || ascending(a.name, b.name));
  const sums = new Map<string, number>();
  for (const { count, price } of rows)
    if (price) sums.set(price.currency, (sums.get(price.currency) ?? 0) + count * price.value);
  const totals = [...sums].map(([currency, value]) => ({ value, currency }));
  const withoutPrice = rows.filter(({ price }) => !price).length;
  const print = { text: purchasesText, json: purchasesJson }[format];
  process.stdout.write(print({ builds: names, parts: rows, totals, withoutPrice }));
  return worstOf(checked.failures);
}

const purchasesJson = (purchases: Purchases): string => jsonText({ version: 1, ...purchases });

function purchasesText({ parts, totals, withoutPrice }: Purchases): string {
  const table = columns(
    parts.map(({ kind, name, count, price }) => [
      `${count} x`,
      name,
      kind,
      price ? formatValue(price.value, price.currency) : 'no price',
      price ? formatValue(count * price.value, price.currency) : '',
    ]),
  );
  const sums = totals.map(({ value, currency }) => formatValue(value, currency));
  const rest = withoutPrice > 0 ? `; ${plural(withoutPrice, 'part')} without a price` : '';
  return `${table}\ntogether ${sums.length > 0 ? listed(sums) : 'unknown'}${rest}\n`;
}

/** Of each part the largest number that is needed at once. */
function mostOf(bought: readonly Bought[]): Bought[] {
  const found = new Map<string, Bought>();
  for (const one of bought) {
    const key = partKey(one.part);
    if (one.count > (found.get(key)?.count ?? 0)) found.set(key, one);
  }
  return [...found.values()];
}

/** Every build that rests on a part, directly or through parts, rules and builds that are like it. */
export async function listUses(name: string, paths: readonly string[], format: ListFormat): Promise<number> {
  const { services, documents, code } = await load(paths);
  const index = indexOf(services);
  const meant = [...index.all()].filter((entry) => entry.name === name);
  if (meant.length === 0) throw notThere('part', name, [...new Set([...index.all()].map((entry) => entry.name))]);
  const requested = new Set(documents.map(({ uri }) => uri.toString()));
  const users = new Set(meant.flatMap(({ part }) => buildsUsing(part, index)));
  const builds = [...users]
    .filter((part) => requested.has(documentOf(part)?.uri.toString() ?? ''))
    .map(lineOf)
    .sort((a, b) => ascending(a.name, b.name) || ascending(a.place, b.place));
  print(format, builds, ({ name: build, title, place }) => [build, title ?? '', place], `no build uses ${name}\n`);
  return code;
}

interface Loaded {
  readonly services: Services;
  readonly documents: readonly FileDocument[];
  readonly code: number;
}

async function load(paths: readonly string[]): Promise<Loaded> {
  const services = createFettleServices(NodeFileSystem);
  const { documents, failures: unread } = await loadPaths(services, paths);
  const defects = documents.flatMap((document) => readDocument(document).defects);
  const failures = [...unread, ...failuresOf(defects, pathOf)];
  for (const { path, message } of failures) complain(`${path}: ${message}`);
  return { services, documents, code: worstOf(failures) };
}

const indexOf = ({ shared }: Services) => shared.workspace.IndexManager;

const namedParts = (documents: readonly FileDocument[]): PartNode[] =>
  documents.flatMap(({ parseResult }) => parseResult.value.parts.filter(({ name }) => name !== undefined));

const nameOf = ({ name }: PartNode): string => name ?? '';

function lineOf(part: PartNode): Listed {
  const { uri, start } = namePlace(part);
  const position = documentOf(part)?.textDocument.positionAt(start);
  const place = position ? `${pathOf(uri)}:${position.line + 1}:${position.character + 1}` : pathOf(uri);
  return {
    kind: part.kind,
    name: nameOf(part),
    ...(part.title !== undefined && { title: part.title }),
    place,
  };
}

/** @param none as text, where there are no rows */
function print<T>(format: ListFormat, rows: readonly T[], cells: (row: T) => string[], none = ''): void {
  const text = () => (rows.length === 0 ? none : columns(rows.map(cells)));
  const printed = { text, json: () => jsonText(rows) }[format];
  process.stdout.write(printed());
}
