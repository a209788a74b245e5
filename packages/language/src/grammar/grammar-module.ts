import type { LangiumCoreServices, Module, PartialLangiumCoreServices } from 'langium';
import { GuardedLexer, GuardedParser } from './guard.ts';
import { FettleLexerMessages, FettleParserMessages } from './messages.ts';
import { FettleTokenBuilder } from './tokens.ts';
import { FettleValueConverter } from './value-texts.ts';

/** How Fettle text becomes a syntax tree: to be composed with the generated module. */
export const FettleGrammarModule: Module<LangiumCoreServices, PartialLangiumCoreServices> = {
  parser: {
    TokenBuilder: () => new FettleTokenBuilder(),
    ValueConverter: () => new FettleValueConverter(),
    Lexer: (services) => new GuardedLexer(services),
    LangiumParser: (services) => new GuardedParser(services),
    LexerErrorMessageProvider: () => new FettleLexerMessages(),
    ParserErrorMessageProvider: () => new FettleParserMessages(),
  },
};
