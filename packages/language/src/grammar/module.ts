import type { LangiumCoreServices, Module, PartialLangiumCoreServices } from 'langium';
import { FettleTokenBuilder } from './tokens.ts';
import { FettleValueConverter } from './values.ts';

/** How Fettle text becomes a syntax tree: to be composed with the generated module. */
export const FettleGrammarModule: Module<LangiumCoreServices, PartialLangiumCoreServices> = {
  parser: {
    TokenBuilder: () => new FettleTokenBuilder(),
    ValueConverter: () => new FettleValueConverter(),
  },
};
