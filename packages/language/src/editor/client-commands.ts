/** Commands that the client itself offers: it names them in `initializationOptions.commands`. Links and lenses call no others. */

import type { LangiumSharedServices } from 'langium/lsp';
import type { Command } from 'vscode-languageserver-types';
import { plain } from './hover/hover-markdown.ts';

/** Shows what `fettle.explain` answers. */
export const SHOW_EXPLANATION = 'fettle.showExplanation';
/** Shows who uses the part at a position. */
export const SHOW_USES = 'fettle.showUses';
/** Opens the sheet of a build. */
export const OPEN_SHEET = 'fettle.openSheet';
/** Inserts what `fettle/measured` answers into a build. */
export const ADD_MEASURED = 'fettle.addMeasured';
/** Shows what `fettle.compare` answers. */
export const COMPARE_PACKS = 'fettle.comparePacks';
/** Shows what `fettle.choose` answers. */
export const SHOW_CHOICE = 'fettle.showChoice';
/** Prompts for lines, and shows what `fettle.try` returns. */
export const TRY_LINES = 'fettle.tryLines';
/** Shows what `fettle.sensitivity` answers. */
export const SHOW_STEPS = 'fettle.showSteps';
/** Shows what changed since a committed version (`fettle/review`). */
export const COMPARE_COMMITTED = 'fettle.compareCommitted';
/** Prompts for a better name for what is at a position. */
export const RENAME_AT = 'fettle.renameAt';

export class ClientCommands {
  #known: ReadonlySet<unknown> = new Set();

  constructor(services: LangiumSharedServices) {
    services.lsp.LanguageServer.onInitialize(({ initializationOptions }) => {
      const commands = (initializationOptions as { commands?: unknown } | undefined)?.commands;
      this.#known = new Set(Array.isArray(commands) ? commands : []);
    });
  }

  command(name: string, title: string, argument: object): Command | undefined {
    return this.#known.has(name) ? { title, command: name, arguments: [argument] } : undefined;
  }

  /** In Markdown. */
  link(name: string, title: string, argument: object): string | undefined {
    // Brackets would end the link.
    const query = encodeURIComponent(JSON.stringify([argument])).replace(/[()]/g, (sign) =>
      sign === '(' ? '%28' : '%29',
    );
    return this.#known.has(name) ? `[${plain(title)}](command:${name}?${query})` : undefined;
  }
}
