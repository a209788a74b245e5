/** One version, read as far as a change reaches. */
import type { URI } from 'langium';
import { type DocumentModel, readDocument } from '../../checks/text/read-document.ts';
import type { Build, Part } from '../../model/build.ts';
import { partId } from '../../model/identities.ts';
import { closureOf, type Declaration, declarationsOf } from '../../model/statements.ts';
import { type Defect, guarded } from '../../syntax/defects.ts';
import { type FileDocument, fileDocument } from '../../syntax/nodes.ts';
import type { Place } from '../../syntax/place.ts';
import { createFettleServices, type Services } from '../../workspace/services.ts';
import { type Files, TreeFiles } from './file-tree.ts';

export interface SideBuild {
  readonly build: Build;
  readonly declaration: Declaration;
  /** Itself, what it names directly or through others, and the test stands whose rows it reads. */
  readonly restsOn: readonly Declaration[];
  /** What was observed on other builds, with all that those rest on; nothing that is in `restsOn`. */
  readonly learnsFrom: readonly Declaration[];
}

export interface Side {
  readonly documents: readonly FileDocument[];
  /** By the id of their declarations. */
  readonly builds: ReadonlyMap<string, SideBuild>;
  /** Everything declared in the files that were read, by id; the first of several of one id. */
  readonly declarations: ReadonlyMap<string, Declaration>;
  readonly models: ReadonlyMap<string, DocumentModel>;
  /** Of those models, by the id of their declarations. */
  readonly parts: ReadonlyMap<string, Part>;
  /** By path. */
  readonly failures: ReadonlyMap<string, string>;
  readonly defects: readonly Defect[];
}

/** Files as the services see them, to be changed and read again. */
export class Workspace {
  readonly #files: TreeFiles;
  readonly #services: Services;
  readonly #uris: readonly URI[];

  constructor(root: URI, files: Files) {
    this.#files = new TreeFiles(root, files);
    this.#services = createFettleServices({ fileSystemProvider: () => this.#files });
    this.#uris = [...files.keys()].filter((path) => path.endsWith('.fettle')).map((path) => this.#files.uriOf(path));
  }

  async open(): Promise<void> {
    const { Loader, DocumentBuilder } = this.#services.shared.workspace;
    const documents = this.#uris.flatMap((uri) => Loader.file(uri) ?? []);
    await DocumentBuilder.build(documents, { validation: true });
  }

  async change(texts: ReadonlyMap<string, string>): Promise<void> {
    const uris = [...texts].map(([path, text]) => {
      const uri = this.#files.uriOf(path);
      this.#files.write(uri, new TextEncoder().encode(text));
      return uri;
    });
    await this.#services.shared.workspace.DocumentBuilder.update(uris, []);
  }

  documents(): FileDocument[] {
    const { LangiumDocuments } = this.#services.shared.workspace;
    const opened = this.#uris.flatMap((uri) => LangiumDocuments.getDocument(uri) ?? []);
    return opened.map(fileDocument);
  }

  failures(pathOf: (uri: string) => string): Map<string, string> {
    const { failures } = this.#services.shared.workspace.Loader;
    return new Map([...failures.values()].map(({ uri, message }) => [pathOf(uri.toString()), message]));
  }
}

/** Reads the builds of the files in `reached`, and understands them with the help of the others. */
export async function readSide(
  root: URI,
  files: Files,
  isReached: (path: string) => boolean,
  pathOf: (uri: string) => string,
): Promise<Side> {
  const workspace = new Workspace(root, files);
  await workspace.open();
  const documents = workspace.documents();
  const reached = documents.filter((document) => isReached(pathOf(document.uri.toString())));
  const models = new Map(reached.map((document) => [document.uri.toString(), readDocument(document)]));
  const defects = [...models.values()].flatMap((model) => model.defects);
  return {
    documents,
    builds: buildsOf(reached, documents, defects),
    declarations: firstOfEach(
      documents.flatMap((document) => guarded(defects, document.uri.toString(), () => declarationsOf(document)) ?? []),
    ),
    models,
    parts: new Map([...models.values()].flatMap(({ parts }) => parts.map((part) => [partId(part), part] as const))),
    failures: workspace.failures(pathOf),
    defects,
  };
}

/** @param all where what the builds rest on is declared */
export function buildsOf(
  documents: readonly FileDocument[],
  all: readonly FileDocument[],
  defects: Defect[],
): Map<string, SideBuild> {
  const byUri = new Map(all.map((document) => [document.uri.toString(), document]));
  const declaredAt = ({ uri, start }: Place): Declaration | undefined => {
    const document = byUri.get(uri);
    return document && declarationsOf(document).find(({ place }) => place.start === start);
  };
  const found = new Map<string, SideBuild>();
  for (const document of documents) {
    for (const build of readDocument(document).builds) {
      guarded(defects, build.uri, () => {
        const declaration = declaredAt(build.place);
        if (declaration?.kind !== 'build' || found.has(declaration.id)) return;
        const standsOf = ({ benches }: Build) => benches.flatMap(({ part }) => declaredAt(part.place) ?? []);
        const restsOn = closureOf([declaration, ...standsOf(build)]);
        const kin = build.kin().map((one) => one.build);
        const observed = kin.flatMap((one) => [declaredAt(one.place) ?? [], standsOf(one)].flat());
        const learnsFrom = closureOf(observed).filter((one) => !restsOn.includes(one));
        found.set(declaration.id, { build, declaration, restsOn, learnsFrom });
      });
    }
  }
  return found;
}

function firstOfEach(declarations: readonly Declaration[]): Map<string, Declaration> {
  const first = new Map<string, Declaration>();
  for (const one of declarations) if (!first.has(one.id)) first.set(one.id, one);
  return first;
}
