import { type ConfigurationInitializedParams, DefaultConfigurationProvider } from 'langium';
import type { ConfigurationItem, DidChangeConfigurationParams, InitializeParams } from 'vscode-languageserver-protocol';
import { withoutSlash } from '../../resolve/keys.ts';
import { membersOf } from '../../units/lookup-table.ts';
import { type FolderSettings, readSettings } from './folder-settings.ts';

type Fetch = (items: ConfigurationItem[]) => Promise<unknown[]>;

/** ms: findings wait so long for a client that does not answer. */
const PATIENCE = 1000;

/**
 * The settings of each folder of the workspace, where the client can be requested for them; else those of all. Registers for changes only where
 * the client has announced that it takes registrations.
 */
export class ClientConfiguration extends DefaultConfigurationProvider {
  #registers = false;
  #isRequested = false;
  #folderUris: readonly string[] = [];
  #request: Fetch | undefined;
  /** By the URI of the folder. */
  #folders: ReadonlyMap<string, FolderSettings> = new Map();
  #everywhere: FolderSettings = readSettings(undefined);
  readonly #listeners: (() => void)[] = [];
  /** Whether the client has answered, is not to be requested, or takes too long. */
  isKnown = true;

  override initialize(params: InitializeParams): void {
    super.initialize(params);
    this.#registers = params.capabilities.workspace?.didChangeConfiguration?.dynamicRegistration === true;
    this.#isRequested = params.capabilities.workspace?.configuration === true;
    this.isKnown = !this.#isRequested;
    this.#folderUris = (params.workspaceFolders ?? []).map(({ uri }) => uri);
  }

  override async initialized({ register, ...params }: ConfigurationInitializedParams): Promise<void> {
    if (this.#isRequested) this.#request = params.fetchConfiguration as Fetch;
    const timer = setTimeout(() => this.#settle(), PATIENCE);
    try {
      await super.initialized({ ...params, ...(this.#registers && register && { register }) });
      await this.#refresh(await this.#getSection());
    } finally {
      clearTimeout(timer);
      this.#settle();
    }
  }

  override updateConfiguration(change: DidChangeConfigurationParams): void {
    super.updateConfiguration(change);
    const { fettle } = membersOf(change.settings);
    void this.#refresh(fettle).catch((error) => console.warn('The settings could not be read:', error));
  }

  /** Called when the settings of some folder are others. */
  onChange(listener: () => void): void {
    this.#listeners.push(listener);
  }

  /** As far as they are known: before the client has answered, the defaults. */
  settingsOf(uri: string): FolderSettings {
    const folder = [...this.#folders.keys()].filter((one) => uri === one || uri.startsWith(`${withoutSlash(one)}/`));
    const nearest = folder.sort((one, other) => other.length - one.length)[0];
    return (nearest === undefined ? undefined : this.#folders.get(nearest)) ?? this.#everywhere;
  }

  async changeFolders(added: readonly string[], removed: readonly string[]): Promise<void> {
    this.#folderUris = [...this.#folderUris.filter((uri) => !removed.includes(uri)), ...added];
    await this.#refresh();
  }

  /** @param all what the client sends for all folders */
  async #refresh(all?: unknown): Promise<void> {
    if (all !== undefined) this.#everywhere = readSettings(all);
    const uris = this.#folderUris;
    const answers = await this.#request?.(uris.map((scopeUri) => ({ section: 'fettle', scopeUri })));
    this.#folders = new Map(
      uris.flatMap((uri, i) => {
        const own = answers?.[i];
        return own === undefined || own === null ? [] : [[uri, readSettings(own)] as const];
      }),
    );
    this.#settle();
  }

  #settle(): void {
    this.isKnown = true;
    for (const listener of this.#listeners) listener();
  }

  async #getSection(): Promise<unknown> {
    await this.ready;
    return membersOf(this.settings).fettle;
  }
}
