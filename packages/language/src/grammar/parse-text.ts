import type { LangiumParser, ParseResult } from 'langium';
import { createDefaultCoreModule, createDefaultSharedCoreModule, EmptyFileSystem, inject } from 'langium';
import type { File } from './generated/ast.ts';
import { FettleGeneratedModule, FettleGeneratedSharedModule } from './generated/module.ts';
import { FettleGrammarModule } from './grammar-module.ts';

let parser: LangiumParser | undefined;

/** Reads a text on its own, without files, references or checks. Never throws: what is wrong is in the result's errors. */
export function parse(text: string): ParseResult<File> {
  parser ??= createParser();
  return parser.parse<File>(text);
}

function createParser(): LangiumParser {
  const shared = inject(createDefaultSharedCoreModule(EmptyFileSystem), FettleGeneratedSharedModule);
  const fettle = inject(createDefaultCoreModule({ shared }), FettleGeneratedModule, FettleGrammarModule);
  shared.ServiceRegistry.register(fettle);
  return fettle.parser.LangiumParser;
}
