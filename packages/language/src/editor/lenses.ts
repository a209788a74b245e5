import { GrammarUtils, type LangiumDocument } from 'langium';
import type { CodeLensProvider } from 'langium/lsp';
import type { CodeLens, Range } from 'vscode-languageserver-types';
import type { File, Part } from '../grammar/generated/ast.ts';
import type { FettleIndex } from '../model/references/index.ts';
import { buildsUsing } from '../model/users.ts';
import { type ClientCommands, OPEN_SHEET, SHOW_USES } from './client-commands.ts';
import type { EditorServices } from './engine/services.ts';

/** Above each part how many builds use it; above each build its sheet, where the client can open one. */
export class FettleLenses implements CodeLensProvider {
  private readonly index: FettleIndex;
  private readonly client: ClientCommands;

  constructor(services: EditorServices) {
    this.index = services.shared.workspace.IndexManager;
    this.client = services.shared.lsp.ClientCommands;
  }

  provideCodeLens(document: LangiumDocument): CodeLens[] {
    return (document.parseResult.value as File).parts.flatMap((part) => {
      const range = GrammarUtils.findNodeForProperty(part.$cstNode, 'name')?.range;
      if (range === undefined || part.kind === 'bench') {
        return [];
      }
      return part.kind === 'build' ? this.ofBuild(document, part, range) : [this.ofPart(document, part, range)];
    });
  }

  private ofBuild(document: LangiumDocument, { name }: Part, range: Range): CodeLens[] {
    const command = this.client.command(OPEN_SHEET, 'open build sheet', { uri: document.uri.toString(), build: name });
    return command === undefined ? [] : [{ range, command }];
  }

  /** Where the client has no view of uses the line only tells. */
  private ofPart(document: LangiumDocument, part: Part, range: Range): CodeLens {
    const builds = buildsUsing(part, this.index).length;
    const title = builds === 0 ? 'used by no build' : builds === 1 ? 'used by 1 build' : `used by ${builds} builds`;
    const asked = { uri: document.uri.toString(), position: range.start };
    const command = builds === 0 ? undefined : this.client.command(SHOW_USES, title, asked);
    return { range, command: command ?? { title, command: '' } };
  }
}
