import { URI, UriUtils } from 'langium';
import { DefaultLanguageServer } from 'langium/lsp';
import type {
  InitializeParams,
  InitializeResult,
  SemanticTokensClientCapabilities,
  ServerCapabilities,
} from 'vscode-languageserver-protocol';
import { fullVersion } from '../report/present/version.ts';
import { takesActions } from './answer-form.ts';
import { CODE_ACTION_KINDS } from './code-actions.ts';
import type { EngineServices } from './engine/editor-services.ts';
import type { PositionUnits } from './engine/position-units.ts';
import { OWN_FEATURES } from './own-features.ts';

/** What the server offers, as reported in its answer to `initialize`. */
export class FettleLanguageServer extends DefaultLanguageServer {
  readonly #units: () => PositionUnits;

  constructor(services: EngineServices) {
    super(services);
    this.#units = () => services.lsp.PositionUnits;
  }

  /** A client that knows one folder only names it as the root. */
  override initialize(params: InitializeParams): Promise<InitializeResult> {
    const { rootUri } = params;
    if (params.workspaceFolders || !rootUri) return super.initialize(params);
    const name = UriUtils.basename(URI.parse(rootUri)) || rootUri;
    return super.initialize({ ...params, workspaceFolders: [{ uri: rootUri, name }] });
  }

  protected override buildInitializeResult(params: InitializeParams): InitializeResult {
    const { typeHierarchyProvider, signatureHelpProvider, ...capabilities } = super.buildInitializeResult(
      params,
    ).capabilities;
    const { textDocument } = params.capabilities;
    const own = offeredBesides(params);
    return {
      serverInfo: { name: 'fettle', version: fullVersion },
      capabilities: {
        ...capabilities,
        positionEncoding: this.#units().choose(params),
        // Actions are edits: a client that takes nothing but commands has none of them.
        codeActionProvider: takesActions(params.capabilities)
          ? { codeActionKinds: CODE_ACTION_KINDS, resolveProvider: true }
          : false,
        renameProvider: params.capabilities.textDocument?.rename?.prepareSupport ? { prepareProvider: true } : true,
        ...(signatureHelpProvider && textDocument?.signatureHelp && { signatureHelpProvider }),
        ...(typeHierarchyProvider && textDocument?.typeHierarchy && { typeHierarchyProvider }),
        implementationProvider: textDocument?.implementation !== undefined,
        ...withDelta(capabilities.semanticTokensProvider, textDocument?.semanticTokens),
        ...own,
        codeLensProvider: { resolveProvider: true },
        completionProvider: { ...capabilities.completionProvider, resolveProvider: true },
        workspace: { ...capabilities.workspace, ...own.workspace },
      },
    };
  }
}

/** For what Langium has no provider. */
function offeredBesides(params: InitializeParams): ServerCapabilities {
  const offers = Object.entries(OWN_FEATURES).map(
    ([capability, { offered }]) => [capability, offered(params)] as const,
  );
  return Object.fromEntries(offers.filter(([, offer]) => offer !== undefined));
}

/** Differences are offered to a client that has declared that it takes them. */
function withDelta(
  options: ServerCapabilities['semanticTokensProvider'],
  client: SemanticTokensClientCapabilities | undefined,
): Pick<ServerCapabilities, 'semanticTokensProvider'> {
  const full = client?.requests.full;
  const takesDelta = typeof full === 'object' && full.delta === true;
  return options ? { semanticTokensProvider: { ...options, full: takesDelta ? { delta: true } : true } } : {};
}
