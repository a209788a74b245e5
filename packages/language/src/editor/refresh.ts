import { DocumentState, type LangiumDocument, type URI } from 'langium';
import type { Connection } from 'vscode-languageserver';
import { CodeLensRefreshRequest, type WorkspaceClientCapabilities } from 'vscode-languageserver-protocol';
import { keysOf, membersOf } from '../units/lookup-table.ts';
import { wantsPull } from './diagnostics/publisher.ts';
import type { EngineServices } from './engine/editor-services.ts';
import { checkedNotification } from './requests/protocol.ts';

/** What the client can be made to request again, by its capability. */
type Refreshable = {
  [C in keyof WorkspaceClientCapabilities]-?: 'refreshSupport' extends keyof NonNullable<WorkspaceClientCapabilities[C]>
    ? C
    : never;
}[keyof WorkspaceClientCapabilities];

/** `checked`: files, the edited one among them; `others`: open files that were not edited; `uses`: the names in a file are others. */
type Cause = 'checked' | 'others' | 'uses' | 'writing' | 'choices' | 'settings';

interface Refresh {
  readonly after: readonly Cause[];
  readonly request: (connection: Connection) => Promise<void>;
}

/** Undefined of what depends on the text of its file alone, or is not offered. */
const REFRESHES: Readonly<Record<Refreshable, Refresh | undefined>> = {
  inlayHint: { after: ['others', 'settings'], request: ({ languages }) => languages.inlayHint.refresh() },
  codeLens: {
    after: ['others', 'uses', 'choices'],
    request: (connection) => connection.sendRequest(CodeLensRefreshRequest.type),
  },
  semanticTokens: { after: ['others'], request: ({ languages }) => languages.semanticTokens.refresh() },
  diagnostics: {
    after: ['checked', 'writing', 'settings'],
    request: ({ languages }) => languages.diagnostics.refresh(),
  },
  foldingRange: undefined,
  inlineValue: undefined,
};

const REFRESHABLE = keysOf(REFRESHES);

/**
 * After an edit the client repeats its requests for the edited file only. When the edit changed what other open files show (a part's mass the hints of
 * a build), the server makes it repeat those as well.
 */
export function requestRefresh(connection: Connection, services: EngineServices): void {
  const builder = services.workspace.DocumentBuilder;
  let edited = new Set<string>();
  let supported: readonly Refreshable[] = [];
  services.lsp.LanguageServer.onInitialize((params) => {
    const { workspace } = params.capabilities;
    const pulls = wantsPull(params);
    supported = REFRESHABLE.filter(
      (one) => workspace?.[one]?.refreshSupport === true && (one !== 'diagnostics' || pulls),
    );
  });
  const uses = new UsedNames();
  builder.onUpdate((changed, deleted) => {
    edited = new Set(changed.map((uri) => uri.toString()));
    uses.forget(deleted);
  });
  const isOpenAndNotEdited = ({ uri }: LangiumDocument): boolean =>
    services.workspace.TextDocuments.get(uri) !== undefined && !edited.has(uri.toString());
  const refreshAfter = (...causes: readonly Cause[]): void => {
    for (const one of supported) {
      const refresh = REFRESHES[one];
      if (!refresh?.after.some((cause) => causes.includes(cause))) continue;
      refresh.request(connection).catch((error) => console.warn('The client did not refresh:', error));
    }
  };

  services.lsp.Writing.onChange(() => refreshAfter('writing'));
  services.lsp.Choices.onFound(() => refreshAfter('choices'));
  services.workspace.ConfigurationProvider.onChange(() => refreshAfter('settings'));
  builder.onBuildPhase(DocumentState.Validated, (documents) => {
    const others: readonly Cause[] = documents.some(isOpenAndNotEdited) ? ['others'] : [];
    const used: readonly Cause[] = uses.changedIn(documents) ? ['uses'] : [];
    refreshAfter('checked', ...others, ...used);
  });
}

/** A client that shows views of its own is notified what to request anew, where it supports that. */
export function notifyChecked(connection: Connection, services: EngineServices): void {
  const builder = services.workspace.DocumentBuilder;
  let isAsked = false;
  services.lsp.LanguageServer.onInitialize(({ initializationOptions }) => {
    isAsked = membersOf(initializationOptions).checked === true;
  });
  const notify = (uris: readonly URI[]): void => {
    if (isAsked && uris.length > 0) {
      const params = { uris: uris.map((uri) => uri.toString()) };
      connection
        .sendNotification(checkedNotification, params)
        .catch((error) => console.warn('The client was not notified of what was checked:', error));
    }
  };
  builder.onUpdate((_changed, deleted) => notify(deleted));
  builder.onBuildPhase(DocumentState.Validated, (documents) => notify(documents.map(({ uri }) => uri)));
}

/** The names in each file: when these change, parts in other files are used by more or fewer builds. */
class UsedNames {
  readonly #names = new Map<string, string>();
  #isChanged = false;

  forget(deleted: readonly URI[]): void {
    for (const uri of deleted) {
      this.#isChanged = this.#names.delete(uri.toString()) || this.#isChanged;
    }
  }

  /** True once for each change. */
  changedIn(documents: readonly LangiumDocument[]): boolean {
    for (const document of documents) {
      const uri = document.uri.toString();
      const names = document.references.map(({ $refText }) => $refText).join(' ');
      this.#isChanged = this.#isChanged || this.#names.get(uri) !== names;
      this.#names.set(uri, names);
    }
    const changed = this.#isChanged;
    this.#isChanged = false;
    return changed;
  }
}
