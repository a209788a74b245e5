import {
  type CancellationToken,
  type Disposable,
  type TestController,
  type TestItem,
  type TestRunProfile,
  TestRunProfileKind,
  TestRunRequest,
  type TextDocument,
  tests,
  workspace,
} from 'vscode';
import { type BaseLanguageClient, LSPErrorCodes, ResponseError, State } from 'vscode-languageclient';
import { buildsRequest, requirementsRequest } from '../../../language/src/editor/requests/protocol.ts';
import type { CheckedFiles } from '../rechecked.ts';
import { showVerdict } from './shown-verdicts.ts';
import { type JudgedItem, RequirementTree } from './tree.ts';

/** Of requests that an edit came in the way of. */
const OVERTAKEN: ReadonlySet<number> = new Set([
  LSPErrorCodes.ContentModified,
  LSPErrorCodes.RequestCancelled,
  LSPErrorCodes.ServerCancelled,
]);

/** Files are checked in bursts: one part reaches many builds. */
const PAUSE_MS = 150;
/** Of one question, each a pause after the edit that overtook the one before. */
const MOST_ATTEMPTS = 10;

/**
 * Checks and requirements in the test explorer. The server has judged them already; a run only requests and shows. It shows what is saved: at the start, when a
 * file is saved, or changes on disk. What is being typed is left alone until then.
 */
export class RequirementTests implements Disposable {
  readonly #client: BaseLanguageClient;
  readonly #controller: TestController;
  readonly #profile: TestRunProfile;
  readonly #tree: RequirementTree;
  readonly #disposables: Disposable[];
  /** Continuous runs that were begun by hand. */
  readonly #continuous = new Set<TestRunRequest>();
  /** Files that were checked since they were last requested. */
  #stale = new Set<string>();
  /** Whether something was typed after the last look at saved text. */
  #isTyping = false;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** One look at a time, in order. */
  #last: Promise<void> = Promise.resolve();

  constructor(client: BaseLanguageClient, checked: CheckedFiles) {
    this.#client = client;
    this.#controller = tests.createTestController('fettle.requirements', 'Fettle');
    this.#tree = new RequirementTree(this.#controller);
    const run = (request: TestRunRequest, token: CancellationToken) => this.#run(request, token);
    this.#profile = this.#controller.createRunProfile('Judge', TestRunProfileKind.Run, run, true, undefined, true);
    this.#controller.refreshHandler = () => this.#lookAtAll();
    const files = workspace.createFileSystemWatcher('**/*.fettle');
    this.#disposables = [
      this.#profile,
      this.#controller,
      files,
      checked.onDidCheck((uris) => {
        for (const uri of uris) this.#stale.add(uri);
        this.#soon();
      }),
      workspace.onDidChangeTextDocument(({ document }) => {
        if (isSource(document)) this.#isTyping = document.isDirty;
      }),
      ...[workspace.onDidSaveTextDocument, workspace.onDidCloseTextDocument].map((event) =>
        event((document) => {
          if (isSource(document)) this.#settled();
        }),
      ),
      ...[files.onDidCreate, files.onDidChange, files.onDidDelete].map((event) => event(() => this.#settled())),
      client.onDidChangeState(({ newState }) => {
        if (newState === State.Running) void this.#lookAtAll();
      }),
    ];
  }

  dispose(): void {
    clearTimeout(this.#timer);
    for (const one of this.#disposables) one.dispose();
  }

  #settled(): void {
    this.#isTyping = false;
    this.#soon();
  }

  #soon(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      if (!this.#isTyping) void this.#inOrder(() => this.#follow());
    }, PAUSE_MS);
  }

  /** After a start nothing is known of what there was before. */
  #lookAtAll(): Promise<void> {
    return this.#inOrder(async () => {
      const { builds } = await this.#client.sendRequest(buildsRequest, {});
      for (const uri of [...this.#tree.files(), ...builds.map(({ uri }) => uri)]) this.#stale.add(uri);
      await this.#follow();
    });
  }

  #inOrder(task: () => Promise<void>): Promise<void> {
    this.#last = this.#last.then(task).catch((error) => {
      // A server that is being started anew is queried again when it is up.
      if (this.#client.state === State.Running)
        this.#client.warn('The requirements could not be judged.', error, false);
    });
    return this.#last;
  }

  /** Shows anew what was checked since. */
  async #follow(): Promise<void> {
    const stale = [...this.#stale];
    this.#stale = new Set();
    // A folder that goes is reported as itself.
    const below = this.#tree.files().filter((file) => stale.some((uri) => file.startsWith(`${uri}/`)));
    const judged = await this.#askAll(new Set([...stale, ...below]));
    if (isAutomatic()) {
      const items = judged.map(({ item }) => item);
      this.#show(new TestRunRequest(items, undefined, this.#profile, false, true), judged);
    } else {
      for (const request of this.#continuous) this.#show(request, chosenBy(request, judged));
    }
  }

  /** By the button; one that is continuous goes on whenever something was checked anew. */
  async #run(request: TestRunRequest, token: CancellationToken): Promise<void> {
    if (request.continuous) {
      this.#continuous.add(request);
      token.onCancellationRequested(() => this.#continuous.delete(request));
    }
    await this.#inOrder(async () => {
      const files = new Set(request.include?.map((item) => this.#tree.fileOf(item)) ?? this.#tree.files());
      this.#show(request, chosenBy(request, await this.#askAll(files, token)));
    });
  }

  async #askAll(uris: Iterable<string>, token?: CancellationToken): Promise<JudgedItem[]> {
    const judged: JudgedItem[] = [];
    for (const uri of uris) {
      if (!token?.isCancellationRequested) judged.push(...(await this.#ask(uri)));
    }
    return judged;
  }

  async #ask(uri: string, attempts = MOST_ATTEMPTS): Promise<JudgedItem[]> {
    if (uri.startsWith('untitled:')) return [];
    try {
      return this.#tree.update(uri, await this.#client.sendRequest(requirementsRequest, { uri }));
    } catch (error) {
      const isGone = error instanceof ResponseError && error.code === LSPErrorCodes.RequestFailed;
      if (isGone) return this.#tree.update(uri, undefined);
      // Overtaken by an edit; or the server is being started anew, and everything is queried again then.
      const isOvertaken = error instanceof ResponseError && OVERTAKEN.has(error.code);
      if (attempts > 1 && this.#client.state === State.Running) {
        if (isOvertaken) await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
        return this.#ask(uri, attempts - 1);
      }
      this.#stale.add(uri);
      if (isOvertaken) this.#soon();
      return [];
    }
  }

  /** A run that nobody requested opens no view and leaves no record. */
  #show(request: TestRunRequest, judged: readonly JudgedItem[]): void {
    if (judged.length === 0) return;
    const run = this.#controller.createTestRun(request, undefined, !request.preserveFocus);
    for (const one of judged) showVerdict(run, one);
    run.end();
  }
}

const isAutomatic = (): boolean => workspace.getConfiguration('fettle').get('tests.runAutomatically', true);

/** A text that was never saved has no tests. */
const isSource = ({ isUntitled, languageId }: TextDocument): boolean => !isUntitled && languageId === 'fettle';

function chosenBy({ include, exclude }: TestRunRequest, judged: readonly JudgedItem[]): JudgedItem[] {
  return judged.filter(({ item }) => isIn(include, item, true) && !isIn(exclude, item, false));
}

/** Whether an item, or one above it, is among those. */
function isIn(items: readonly TestItem[] | undefined, item: TestItem, whenAbsent: boolean): boolean {
  if (items === undefined) return whenAbsent;
  return items.includes(item) || (item.parent !== undefined && isIn(items, item.parent, whenAbsent));
}
