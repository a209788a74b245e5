import {
  createDefaultCoreModule,
  createDefaultSharedCoreModule,
  EmptyFileSystem,
  inject,
  type LangiumCoreServices,
  type Module,
  type PartialLangiumCoreServices,
} from 'langium';
import {
  FettleGeneratedModule,
  FettleGeneratedSharedModule,
} from '../../packages/language/src/grammar/generated/module.ts';
import { FettleGrammarModule } from '../../packages/language/src/grammar/grammar-module.ts';

/** The grammar's services, with changes a test needs. */
export function createGrammarServices(
  changes: Module<LangiumCoreServices, PartialLangiumCoreServices> = {},
): LangiumCoreServices {
  const shared = inject(createDefaultSharedCoreModule(EmptyFileSystem), FettleGeneratedSharedModule);
  const services = inject(createDefaultCoreModule({ shared }), FettleGeneratedModule, FettleGrammarModule, changes);
  shared.ServiceRegistry.register(services);
  return services;
}
