/** `fettle list`: what there is, and who uses what. */
import type { LangiumDocument } from 'langium';
import { readDocument } from '../checks/text/read-document.ts';
import type { File, Part } from '../grammar/generated/ast.ts';
import { failuresOf } from '../report/checked.ts';
import { columns } from '../report/present/display-width.ts';
import { jsonText } from '../report/present/json-text.ts';
import { plural } from '../report/present/report-words.ts';
import { buildsUsing } from '../resolve/users.ts';
import { documentOf, namePlace } from '../syntax/nodes.ts';
import { loadPaths } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices, type Services } from '../workspace/services.ts';
import { pathOf } from './check-command.ts';
import type { ListFormat } from './formats.ts';
import { COULD_NOT_RUN, complain, notThere } from './refuse.ts';

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
    .map((part): ListedPart => ({ ...listed(part), usedBy: buildsUsing(part, indexOf(services)).map(nameOf) }))
    .sort((a, b) => compare(a.kind, b.kind) || compare(a.name, b.name) || compare(a.place, b.place));
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
    documents.flatMap((document) => {
      const uri = document.uri.toString();
      return readDocument(document).builds.map((build): [string, string[]] => [
        `${uri} ${build.place.start}`,
        build.packs.map(({ name }) => name),
      ]);
    }),
  );
  const builds = namedParts(documents)
    .filter(({ kind }) => kind === 'build')
    .map((part): ListedBuild => {
      const { uri, start } = namePlace(part);
      return { ...listed(part), packs: packs.get(`${uri} ${start}`) ?? [] };
    });
  print(format, builds, ({ name, title, packs: on, place }) => [name, title ?? '', on.join(', '), place]);
  return code;
}

/** Every build that rests on a part, directly or through parts, rules and builds that are like it. */
export async function listUses(name: string, paths: readonly string[], format: ListFormat): Promise<number> {
  const { services, documents, code } = await load(paths);
  const index = indexOf(services);
  const meant = [...index.all()].filter((entry) => entry.name === name);
  if (meant.length === 0) throw notThere('part', name, [...new Set([...index.all()].map((entry) => entry.name))]);
  const asked = new Set(documents.map(({ uri }) => uri.toString()));
  const users = new Set(meant.flatMap(({ part }) => buildsUsing(part, index)));
  const builds = [...users]
    .filter((part) => asked.has(documentOf(part)?.uri.toString() ?? ''))
    .map(listed)
    .sort((a, b) => compare(a.name, b.name) || compare(a.place, b.place));
  if (builds.length === 0 && format === 'text') process.stdout.write(`no build uses ${name}\n`);
  else print(format, builds, ({ name: build, title, place }) => [build, title ?? '', place]);
  return code;
}

interface Found {
  readonly services: Services;
  readonly documents: readonly LangiumDocument<File>[];
  readonly code: number;
}

async function load(paths: readonly string[]): Promise<Found> {
  const services = createFettleServices(NodeFileSystem);
  const { documents, failures: unread } = await loadPaths(services, paths);
  const defects = documents.flatMap((document) => readDocument(document).defects);
  const failures = [...unread, ...failuresOf(defects, pathOf)];
  for (const { path, message } of failures) complain(`${path}: ${message}`);
  return { services, documents, code: failures.length > 0 ? COULD_NOT_RUN : 0 };
}

const indexOf = ({ shared }: Services) => shared.workspace.IndexManager;

const namedParts = (documents: readonly LangiumDocument<File>[]): Part[] =>
  documents.flatMap(({ parseResult }) => parseResult.value.parts.filter(({ name }) => name !== undefined));

const nameOf = ({ name }: Part): string => name ?? '';

function listed(part: Part): Listed {
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

function print<T>(format: ListFormat, rows: readonly T[], cells: (row: T) => string[]): void {
  process.stdout.write(format === 'json' ? jsonText(rows) : columns(rows.map(cells)));
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
