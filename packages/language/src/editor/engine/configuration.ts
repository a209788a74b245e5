import { type ConfigurationInitializedParams, DefaultConfigurationProvider } from 'langium';
import type { InitializeParams } from 'vscode-languageserver-protocol';

/** Registers for changes of the settings only where the client has announced that it takes registrations. */
export class ClientConfiguration extends DefaultConfigurationProvider {
  private registers = false;

  override initialize(params: InitializeParams): void {
    super.initialize(params);
    this.registers = params.capabilities.workspace?.didChangeConfiguration?.dynamicRegistration === true;
  }

  override initialized({ register, ...params }: ConfigurationInitializedParams): Promise<void> {
    return super.initialized({ ...params, ...(this.registers && register && { register }) });
  }

  /** Each kind of hint has a switch of its own, `fettle.hints.packs` and `fettle.hints.requirements`; a client that sets none shows all. */
  async shownHints(): Promise<{ packs: boolean; requirements: boolean }> {
    const hints = (await this.getConfiguration('fettle', 'hints')) as Record<string, unknown> | null | undefined;
    return { packs: hints?.packs !== false, requirements: hints?.requirements !== false };
  }
}
