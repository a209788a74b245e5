import { type LangiumDocument, URI, UriUtils } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { CancellationToken } from 'vscode-languageserver';
import { CodeLensRefreshRequest, LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { membersOf } from '../../units/lookup-table.ts';
import { refuse } from '../requests/checked-documents.ts';
import type { ReviewAnswer, ReviewParams } from '../requests/protocol.ts';
import type { CommittedComparison, ComparedVersions } from './compare-versions.ts';
import type { Reviewer } from './review-thread.ts';

const BASE = 'HEAD';
/** A commit changes no file, so there is no notification: lenses look again when what they show is older than this. ms */
const LOOK_AGAIN = 30_000;

interface Known {
  readonly key: string;
  readonly comparison: CommittedComparison;
}

/** How a folder's builds differ from their last commit, as far as lenses have requested it. */
interface Watch {
  known?: Known | undefined;
  /** Line by build, by URI. */
  lines: ReadonlyMap<string, ReadonlyMap<string, string>>;
  isLooking: boolean;
  isStale: boolean;
  lookedAt: number;
}

/**
 * Saved files compared with a committed version: for the lens of a build and the request `fettle/review`. What a lens shows is what was last found;
 * looking happens elsewhere, after a save or a while, never because of a key.
 */
export class Committed {
  readonly #services: LangiumSharedServices;
  #reviewer: Reviewer | undefined;
  #whyNot = 'comparing with a committed version needs git, and this server has no disk';
  readonly #watches = new Map<string, Watch>();
  readonly #answers = new Map<string, Known>();
  #refreshes = false;

  constructor(services: LangiumSharedServices, reviewer: Reviewer | undefined) {
    this.#services = services;
    this.#reviewer = reviewer;
    services.lsp.LanguageServer.onInitialize(({ capabilities, initializationOptions }) => {
      if (membersOf(initializationOptions).git === false) {
        this.#reviewer = undefined;
        this.#whyNot = 'git is not run in a workspace that is not trusted';
      }
      this.#refreshes = capabilities.workspace?.codeLens?.refreshSupport === true;
    });
  }

  /** "all-up weight 96.0 → 98.8 g", as last found; undefined where nothing differs. */
  lineOf(document: LangiumDocument, build: string): string | undefined {
    const watch = this.#watchOf(document.uri);
    if (watch === undefined) return undefined;
    if (watch.isStale || Date.now() - watch.lookedAt > LOOK_AGAIN) this.#look(this.#folderOf(document.uri), watch);
    return watch.lines.get(document.uri.toString())?.get(build);
  }

  saved(uri: URI): void {
    const folder = this.#folderOf(uri);
    const watch = this.#watches.get(folder.toString());
    if (watch !== undefined) {
      watch.isStale = true;
      this.#look(folder, watch);
    }
  }

  async review(params: ReviewParams | undefined, cancellation: CancellationToken): Promise<ReviewAnswer> {
    const { uri, base = BASE } = params ?? {};
    if ((uri !== undefined && typeof uri !== 'string') || typeof base !== 'string') {
      return refuse('the parameters are { uri?, base? }');
    }
    const folder = uri === undefined ? this.#firstFolder() : this.#folderOf(URI.parse(uri));
    const cacheKey = `${base} ${folder.toString()}`;
    const compared = await this.#ask(folder, base, this.#answers.get(cacheKey)?.key, cancellation);
    if (compared.refused !== undefined) return refuse(compared.refused);
    const comparison = compared.comparison ?? this.#answers.get(cacheKey)?.comparison;
    if (comparison === undefined) return refuse('the comparison was lost: repeat the request');
    this.#answers.set(cacheKey, { key: compared.key, comparison });
    return {
      base: comparison.base,
      markdown: comparison.markdown,
      builds: comparison.builds.map(({ path, build, line }) => ({
        uri: UriUtils.joinPath(folder, path).toString(),
        build,
        line,
      })),
    };
  }

  async #ask(
    folder: URI,
    base: string,
    known: string | undefined,
    token?: CancellationToken,
  ): Promise<ComparedVersions> {
    if (this.#reviewer === undefined || folder.scheme !== 'file') return { refused: this.#whyNot };
    const abort = new AbortController();
    const listening = token?.onCancellationRequested(() => abort.abort());
    try {
      return await this.#reviewer({ folder: folder.fsPath, base, ...(known !== undefined && { known }) }, abort.signal);
    } catch (error) {
      throw abort.signal.aborted ? new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled') : error;
    } finally {
      listening?.dispose();
    }
  }

  #watchOf(uri: URI): Watch | undefined {
    if (this.#reviewer === undefined || uri.scheme !== 'file') return undefined;
    const key = this.#folderOf(uri).toString();
    const watch = this.#watches.get(key) ?? { lines: new Map(), isLooking: false, isStale: true, lookedAt: 0 };
    this.#watches.set(key, watch);
    return watch;
  }

  #look(folder: URI, watch: Watch): void {
    if (watch.isLooking) return;
    watch.isLooking = true;
    watch.isStale = false;
    this.#ask(folder, BASE, watch.known?.key)
      .then((compared) => this.#found(folder, watch, compared))
      .catch((error) => console.error(`Internal error while comparing ${folder.fsPath} with its commit:`, error))
      .finally(() => {
        watch.isLooking = false;
        watch.lookedAt = Date.now();
        // Saved meanwhile.
        if (watch.isStale) this.#look(folder, watch);
      });
  }

  #found(folder: URI, watch: Watch, compared: ComparedVersions): void {
    // Without git, a repository or a commit there is nothing to show, and that is no fault.
    const comparison = compared.refused === undefined ? compared.comparison : undefined;
    if (compared.refused === undefined && comparison === undefined) return;
    const before = JSON.stringify(watch.known?.comparison.builds ?? []);
    if (compared.refused === undefined && comparison !== undefined) {
      watch.known = { key: compared.key, comparison };
    } else {
      watch.known = undefined;
    }
    const lines = new Map<string, Map<string, string>>();
    for (const { path, build, line } of comparison?.builds ?? []) {
      const uri = UriUtils.joinPath(folder, path).toString();
      lines.set(uri, (lines.get(uri) ?? new Map<string, string>()).set(build, line));
    }
    watch.lines = lines;
    if (this.#refreshes && before !== JSON.stringify(comparison?.builds ?? [])) {
      this.#services.lsp.Connection?.sendRequest(CodeLensRefreshRequest.type).catch((error) =>
        console.warn('The client did not refresh:', error),
      );
    }
  }

  /** The workspace's folder around a file, else the file's own. A folder is its own. */
  #folderOf(uri: URI): URI {
    const text = uri.toString();
    const folders = this.#services.workspace.WorkspaceManager.workspaceFolders ?? [];
    const around = folders.filter((folder) => text === folder.uri || text.startsWith(`${folder.uri}/`));
    const [nearest] = around.sort((left, right) => right.uri.length - left.uri.length);
    if (nearest !== undefined) return URI.parse(nearest.uri);
    return UriUtils.extname(uri) === '' ? uri : UriUtils.dirname(uri);
  }

  #firstFolder(): URI {
    const [first] = this.#services.workspace.WorkspaceManager.workspaceFolders ?? [];
    return first === undefined ? refuse('no folder is open: state the file, { uri }') : URI.parse(first.uri);
  }
}
