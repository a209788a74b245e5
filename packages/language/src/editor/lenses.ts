import { GrammarUtils, type LangiumDocument } from 'langium';
import type { CodeLensProvider } from 'langium/lsp';
import type { CodeLens } from 'vscode-languageserver-types';
import type { File } from '../grammar/generated/ast.ts';
import type { FettleIndex } from '../model/references/index.ts';
import type { EditorServices } from './engine/services.ts';
import { buildsUsing } from './usage.ts';

/** Above each part how many builds use it. The command is empty: the line only tells. */
export class FettleLenses implements CodeLensProvider {
  private readonly index: FettleIndex;

  constructor(services: EditorServices) {
    this.index = services.shared.workspace.IndexManager;
  }

  provideCodeLens(document: LangiumDocument): CodeLens[] {
    return (document.parseResult.value as File).parts.flatMap((part) => {
      const name = GrammarUtils.findNodeForProperty(part.$cstNode, 'name');
      if (name === undefined || part.kind === 'build' || part.kind === 'bench') {
        return [];
      }
      const builds = buildsUsing(part, this.index).length;
      const title = builds === 0 ? 'used by no build' : builds === 1 ? 'used by 1 build' : `used by ${builds} builds`;
      return [{ range: name.range, command: { title, command: '' } }];
    });
  }
}
