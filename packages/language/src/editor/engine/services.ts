import type { LangiumServices, LangiumSharedServices } from 'langium/lsp';
import type { FettleIndex } from '../../model/references/index.ts';
import type { DiagnosticsPublisher } from '../diagnostics/publisher.ts';
import type { IncrementalDocumentBuilder } from './incremental-builder.ts';

/** The shared services with our own engine in place of the defaults. */
export type EngineServices = LangiumSharedServices & {
  readonly workspace: {
    readonly DocumentBuilder: IncrementalDocumentBuilder;
    readonly IndexManager: FettleIndex;
  };
  readonly lsp: {
    readonly DiagnosticsPublisher: DiagnosticsPublisher;
  };
};

export type EditorServices = LangiumServices & { readonly shared: EngineServices };
