import type { ClientCapabilities } from 'vscode-languageserver-protocol/node';

/** Capabilities of a present-day editor, as far as the server reads them. */
export const CAPABILITIES: ClientCapabilities = {
  workspace: {
    configuration: true,
    workspaceFolders: true,
    applyEdit: true,
    didChangeWatchedFiles: { dynamicRegistration: true },
    workspaceEdit: { documentChanges: true },
  },
  textDocument: {
    publishDiagnostics: {
      relatedInformation: true,
      versionSupport: true,
      codeDescriptionSupport: true,
      tagSupport: { valueSet: [1, 2] },
    },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown', 'plaintext'] } },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    definition: { linkSupport: true },
    declaration: { linkSupport: true },
    typeDefinition: { linkSupport: true },
    implementation: { linkSupport: true },
    typeHierarchy: {},
    signatureHelp: { signatureInformation: { documentationFormat: ['markdown', 'plaintext'] } },
    inlayHint: {},
    semanticTokens: {
      requests: { full: { delta: true }, range: true },
      tokenTypes: [],
      tokenModifiers: [],
      formats: ['relative'],
    },
    rename: { prepareSupport: true },
    codeAction: {
      codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix', 'source.fixAll'] } },
      isPreferredSupport: true,
    },
  },
};
