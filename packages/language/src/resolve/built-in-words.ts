/**
 * Built-in words (`buck`, `hover`, `hover_time`, `pack` …) as targets of references. They are in no file, yet a reference to one must
 * resolve: an unresolved reference is a finding, and a reason to look again at every edit.
 */
import { type AstNode, type AstNodeDescription, DocumentState, URI } from 'langium';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { File, Word } from '../grammar/generated/ast.ts';
import type { FileDocument } from '../syntax/nodes.ts';

const uri = URI.parse('fettle-words:/words.fettle');

const root: File = { $type: File.$type, braces: [], parts: [], strays: [], unknowns: [], uses: [] };

/** The document that every word belongs to, so that tools which look up the document of a node find one. */
const document: FileDocument = {
  uri,
  parseResult: { value: root, lexerErrors: [], parserErrors: [] },
  state: DocumentState.Validated,
  references: [],
  textDocument: TextDocument.create(uri.toString(), 'fettle', 0, ''),
};
Object.assign(root, { $document: document });

const descriptions = new Map<string, AstNodeDescription>();

/** The one node for a word, described for the linker. */
export function describeWord(name: string): AstNodeDescription {
  let description = descriptions.get(name);
  if (!description) {
    const node: Word = { $type: Word.$type, name };
    Object.assign(node, { $container: root, $containerProperty: 'words', $containerIndex: descriptions.size });
    description = { node, name, type: Word.$type, documentUri: uri, path: `/words@${descriptions.size}` };
    descriptions.set(name, description);
  }
  return description;
}

export function isBuiltIn(node: AstNode): boolean {
  return node.$type === Word.$type;
}
