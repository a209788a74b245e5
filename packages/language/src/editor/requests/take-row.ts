/** A row of a shortlist as an edit of its build. */
import type { LangiumDocument } from 'langium';
import type { Location, TextEdit } from 'vscode-languageserver-types';
import type { PartNode } from '../../grammar/generated/ast.ts';
import { readShortlist } from '../../model/shortlists.ts';
import type { Row } from '../../report/decide/choice.ts';
import { documentOf } from '../../syntax/nodes.ts';
import { edited, editsFor } from '../../trial/take.ts';
import { toTextEdits } from '../place-ranges.ts';

interface Taking {
  /** Of the edit. */
  readonly title: string;
  readonly build: string;
  /** In which the build is. */
  readonly home: LangiumDocument;
  /** Empty where the build is like that already. */
  readonly edits: readonly TextEdit[];
  /** Where the first of them is. */
  readonly at: Location;
}

/**
 * Undefined where the shortlist names no build that is known.
 * @throws CannotChoose where a candidate is made of parts that do not exist
 */
export function takingOf(shortlist: PartNode, row: Row): Taking | undefined {
  const base = readShortlist(shortlist).build;
  const home = base && documentOf(base);
  if (!base || !home) return undefined;
  const { name: build = '' } = base;
  const wanted = editsFor(base, row.choices);
  const text = home.textDocument.getText();
  const edits = edited(text, wanted) === text ? [] : toTextEdits(wanted, home);
  const [first] = [...edits].sort(
    ({ range: a }, { range: b }) => a.start.line - b.start.line || a.start.character - b.start.character,
  );
  const start = first?.range.start ?? home.textDocument.positionAt(base.$cstNode?.offset ?? 0);
  const at = { uri: home.uri.toString(), range: { start, end: start } };
  return { title: `Take ${row.rank}: ${row.label} in ${build}`, build, home, edits, at };
}
