/** Which commands the client itself offers: it names them in `initializationOptions.commands`. Links and lenses call no others. */

import type { LangiumSharedServices } from 'langium/lsp';
import type { Command } from 'vscode-languageserver-types';
import { membersOf } from '../units/lookup-table.ts';
import { plain } from './hover/hover-markdown.ts';

export class ClientCommands {
  #known: ReadonlySet<unknown> = new Set();

  constructor(services: LangiumSharedServices) {
    services.lsp.LanguageServer.onInitialize(({ initializationOptions }) => {
      const { commands } = membersOf(initializationOptions);
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
