/** What was found of shortlists, kept as long as every file that it rests on stays as it is. */
import { DocumentState } from 'langium';
import type { CancellationToken } from 'vscode-languageserver';
import { LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { Cancelled, type Chosen, choose, type Watching } from '../../report/decide/choice.ts';
import { CannotChoose, spaceOf } from '../../trial/candidates.ts';
import { partOfKindNamed } from '../../trial/trial.ts';
import type { FettleSharedServices } from '../../workspace/workspace-module.ts';
import { documentAt, refuse, whenChecked } from './checked-documents.ts';

/** What a search rests on. */
interface Rest {
  readonly files: ReadonlySet<string>;
  /** All files that there were. */
  readonly known: ReadonlySet<string>;
}

interface KeptChoice extends Rest {
  readonly chosen: Chosen;
}

const MOST_KEPT = 8;

export class Choices {
  readonly #services: FettleSharedServices;
  readonly #found = new Map<string, KeptChoice>();
  /** Of each search that runs: files that changed since it began. */
  readonly #running = new Set<Set<string>>();
  readonly #listeners: (() => void)[] = [];

  constructor(services: FettleSharedServices) {
    this.#services = services;
    const { DocumentBuilder } = services.workspace;
    DocumentBuilder.onUpdate((changed, deleted) => this.#changed([...changed, ...deleted].map(String)));
    // A log that was read anew changes no text, but what is checked after it.
    DocumentBuilder.onBuildPhase(DocumentState.Validated, (documents) =>
      this.#changed(documents.map(({ uri }) => uri.toString())),
    );
  }

  /** There is something new to show at a shortlist. */
  onFound(listener: () => void): void {
    this.#listeners.push(listener);
  }

  /** Undefined where nothing was found, or where a file that it rests on has changed since. */
  last(uri: string, name: string): Chosen | undefined {
    return this.#found.get(keyOf(uri, name))?.chosen;
  }

  async of(
    { uri, shortlist: name }: { readonly uri: string; readonly shortlist: string },
    cancellation: CancellationToken,
    watching: Omit<Watching, 'isCancelled'> = {},
  ): Promise<Chosen> {
    const { document, node, known } = await whenChecked(this.#services, cancellation, () => {
      const asked = documentAt(this.#services, uri);
      const part = partOfKindNamed(asked, 'shortlist', name) ?? refuse(`no shortlist ${name} in ${uri}`);
      const all = [...this.#services.workspace.LangiumDocuments.all];
      return { document: asked, node: part, known: new Set(all.map((one) => one.uri.toString())) };
    });
    const kept = this.last(uri, name);
    if (kept) return kept;
    const changed = new Set<string>();
    this.#running.add(changed);
    try {
      const space = await spaceOf({ shared: this.#services }, document, node);
      const rest = { files: space.files, known };
      const isCancelled = () => cancellation.isCancellationRequested || isTouched(rest, changed);
      const chosen = await choose(space, { ...watching, isCancelled });
      if (isTouched(rest, changed)) throw new Cancelled();
      this.#keep(keyOf(uri, name), { chosen, ...rest });
      return chosen;
    } catch (error) {
      if (error instanceof Cancelled)
        throw cancellation.isCancellationRequested
          ? new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled')
          : new ResponseError(LSPErrorCodes.ContentModified, 'a file that the candidates rest on has changed');
      if (error instanceof CannotChoose) return refuse(error.message);
      throw error;
    } finally {
      this.#running.delete(changed);
    }
  }

  #keep(key: string, found: KeptChoice): void {
    this.#found.delete(key);
    if (this.#found.size >= MOST_KEPT) this.#found.delete(this.#found.keys().next().value ?? '');
    this.#found.set(key, found);
    for (const listener of this.#listeners) listener();
  }

  #changed(files: readonly string[]): void {
    for (const running of this.#running) for (const file of files) running.add(file);
    for (const [key, found] of this.#found) if (isTouched(found, files)) this.#found.delete(key);
  }
}

const keyOf = (uri: string, name: string): string => `${uri}#${name}`;

/** By a file that it rests on, or by one that was not there: the folder that it varies over may have it now. */
function isTouched({ files, known }: Rest, changed: Iterable<string>): boolean {
  return [...changed].some((file) => files.has(file) || !known.has(file));
}
