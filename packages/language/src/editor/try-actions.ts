/** At a figure: try another value of it, in each build that rests on it. Nothing is written; the client prompts for the value. */
import { AstUtils } from 'langium';
import { type CodeAction, CodeActionKind } from 'vscode-languageserver-types';
import { isPartNode, isPropertyNode } from '../grammar/generated/ast.ts';
import { buildsUsing } from '../resolve/builds-using.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import type { FileDocument } from '../syntax/nodes.ts';
import { textOf } from '../syntax/source.ts';
import { propertyInWords } from '../vocabulary/properties.ts';
import type { ClientCommands } from './client-commands.ts';
import { figureAt } from './line-actions.ts';
import { TRY_LINES } from './requests/protocol.ts';

/** More builds than these nobody reads in a menu. */
const MOST_BUILDS = 3;

/** Motors and cells, not a mass or what is continuous. */
const PLURAL = /[^su]s$/;

export function tryActions(
  document: FileDocument,
  offset: number,
  index: FettleIndex,
  client: ClientCommands,
): CodeAction[] {
  const figure = figureAt(document, offset);
  const line = figure && AstUtils.getContainerOfType(figure, isPropertyNode);
  const part = line?.$container;
  if (!line || !isPartNode(part) || part.name === undefined) return [];
  const isOwn = part.kind === 'build';
  if (['rules', 'shortlist', 'bench', 'plug'].includes(part.kind)) return [];
  const tried = isOwn ? textOf(line) : `${part.name}.${line.key}: ${textOf(figure)}`;
  const builds = isOwn ? [part] : buildsUsing(part, index).slice(0, MOST_BUILDS);
  return builds.flatMap((build): CodeAction[] => {
    const words = propertyInWords(line.key);
    const title = `Try ${PLURAL.test(words) ? 'other' : 'another'} ${words} in ${build.name}…`;
    const uri = AstUtils.getDocument(build).uri.toString();
    const command = client.command(TRY_LINES, title, { uri, build: build.name, line: tried });
    return command === undefined ? [] : [{ title, kind: CodeActionKind.RefactorRewrite, command }];
  });
}
