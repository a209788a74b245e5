import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createServicesForGrammar } from 'langium/grammar';
import { describe, expect, it, onTestFinished } from 'vitest';
import { FettleLanguageMetaData, parserConfig } from '../../packages/language/src/grammar/generated/module.ts';
import { createGrammarServices } from './grammar-services.ts';

const LANGUAGE = join(import.meta.dirname, '../../packages/language');
const GENERATOR = join(import.meta.dirname, '../../node_modules/langium-cli/bin/langium.js');
const GENERATED = 'src/grammar/generated';

describe('the generated code', () => {
  it('is what the generator makes of the grammar today', () => {
    const folder = mkdtempSync(join(tmpdir(), 'fettle-generated-'));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    for (const path of ['langium-config.json', 'package.json', 'src/grammar/fettle.langium']) {
      cpSync(join(LANGUAGE, path), join(folder, path));
    }
    execFileSync(process.execPath, [GENERATOR, 'generate', '--mode=production'], { cwd: folder, stdio: 'pipe' });
    const fresh = readdirSync(join(folder, GENERATED)).sort();
    expect(readdirSync(join(LANGUAGE, GENERATED)).sort()).toEqual(fresh);
    for (const file of fresh) {
      const [committed, made] = [LANGUAGE, folder].map((root) => readFileSync(join(root, GENERATED, file), 'utf8'));
      expect(committed === made, `${file} is stale: run "npm run generate"`).toBe(true);
    }
  });
});

describe('one token decides', () => {
  // In development the parser checks its own alternatives with the tokens that it may look ahead.
  it('is how the parser is made', () => expect(parserConfig.maxLookahead).toBe(1));

  it('leaves no alternative of the grammar ambiguous', () => {
    const checked = createGrammarServices({
      LanguageMetaData: () => ({ ...FettleLanguageMetaData, mode: 'development' }),
    });
    expect(() => checked.parser.LangiumParser).not.toThrow();
  });

  it('would fail for a grammar that needs two', async () => {
    const grammar = `grammar Two entry File: Long | Short; Long: 'a' 'b' x='c'; Short: 'a' y='c'; hidden terminal WS: /\\s+/;`;
    const services = await createServicesForGrammar({
      grammar,
      module: { parser: { ParserConfig: () => parserConfig } },
      languageMetaData: { ...FettleLanguageMetaData, mode: 'development' },
    });
    expect(() => services.parser.LangiumParser).toThrow(/Ambiguous Alternatives/);
  });
});
