/** The language without an editor: parser, names, documents. */
import {
  createDefaultCoreModule,
  createDefaultSharedCoreModule,
  type DefaultSharedCoreModuleContext,
  EmptyFileSystem,
  inject,
} from 'langium';
import { FettleGeneratedModule, FettleGeneratedSharedModule } from '../grammar/generated/module.ts';
import { FettleGrammarModule } from '../grammar/grammar-module.ts';
import {
  FettleReferencesModule,
  type FettleServices,
  type FettleSharedServices,
  FettleWorkspaceModule,
} from './workspace-module.ts';

export interface Services {
  readonly shared: FettleSharedServices;
  readonly fettle: FettleServices;
}

/** Services that work on files of this machine take `NodeFileSystem` of `node-files.ts`; without it, documents are made in memory. */
export function createFettleServices(context: DefaultSharedCoreModuleContext = EmptyFileSystem): Services {
  const shared = inject(createDefaultSharedCoreModule(context), FettleGeneratedSharedModule, FettleWorkspaceModule);
  const fettle = inject(
    createDefaultCoreModule({ shared }),
    FettleGeneratedModule,
    FettleGrammarModule,
    FettleReferencesModule,
  );
  shared.ServiceRegistry.register(fettle);
  return { shared, fettle };
}
