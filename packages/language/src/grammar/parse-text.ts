import {
  type AstNode,
  createDefaultCoreModule,
  createDefaultSharedCoreModule,
  DefaultLinker,
  EmptyFileSystem,
  inject,
  type LangiumCoreServices,
  type LangiumParser,
  type Linker,
  type ParseResult,
  type ParserOptions,
} from 'langium';
import type { File } from './generated/ast.ts';
import { FettleGeneratedModule, FettleGeneratedSharedModule } from './generated/module.ts';
import { FettleGrammarModule } from './grammar-module.ts';

/** To make a parser takes longer than to read most files: everything in a process is read by this one, with the linker of whoever reads. */
let common: { readonly parser: LangiumParser; readonly names: NamesOfReader } | undefined;

/** Reads a text on its own, without files, references or checks. Never throws: what is wrong is in the result's errors. */
export function parse(text: string): ParseResult<File> {
  common ??= createParser();
  return common.parser.parse<File>(text);
}

/** A parser of texts whose names this linker resolves. The framework calls `parse` alone. */
export function parserFor(linker: Linker): LangiumParser {
  const parser: Pick<LangiumParser, 'parse'> = {
    parse<T extends AstNode>(text: string, options?: ParserOptions): ParseResult<T> {
      common ??= createParser();
      common.names.linker = linker;
      try {
        return common.parser.parse<T>(text, options);
      } finally {
        common.names.linker = undefined;
      }
    },
  };
  return parser as LangiumParser;
}

class NamesOfReader extends DefaultLinker {
  linker: Linker | undefined;

  override buildReference(...place: Parameters<Linker['buildReference']>): ReturnType<Linker['buildReference']> {
    return this.linker ? this.linker.buildReference(...place) : super.buildReference(...place);
  }
}

function createParser(): NonNullable<typeof common> {
  const shared = inject(createDefaultSharedCoreModule(EmptyFileSystem), FettleGeneratedSharedModule);
  const fettle = inject(createDefaultCoreModule({ shared }), FettleGeneratedModule, FettleGrammarModule, {
    references: { Linker: (services: LangiumCoreServices) => new NamesOfReader(services) },
  });
  shared.ServiceRegistry.register(fettle);
  return { parser: fettle.parser.LangiumParser, names: fettle.references.Linker };
}
