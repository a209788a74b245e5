/** What people read is plain English in the words of the trade: phrases that a rewrite took out do not come back. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');

/** A phrase that nobody should read, and what to write in its place. One per line, in alphabetical order of the first word. */
const FORBIDDEN: readonly (readonly [RegExp, string])[] = [
  [/\baerials?\b/i, 'antenna'],
  [/\bblocked (?:current|motor)\b/i, 'stall current, stalled'],
  [/\bcannot be meant\b/i, 'is implausible'],
  [/\bchop(?:s|ping)?\b/i, 'PWM frequency'],
  [/\bhangs on\b/i, 'depends on, is supplied by'],
  [/\bheat path\b/i, 'thermal resistance'],
  [/\bin hand\b(?! on)/i, 'in reserve'],
  [/\bits page (?:says|states)\b/i, 'its data sheet states'],
  [/\blasting (?:current|rate|rating)\b/i, 'continuous'],
  [/\bnobody can tell\b/i, 'cannot be judged'],
  [/\bpage figures\b/i, 'data sheet'],
  [/\bsatellite navigation\b/i, 'GPS'],
  [/\bshort rating\b/i, 'burst rating'],
  [/\bshort (?:current|rate) of\b/i, 'burst'],
  [/\bstacked\b/i, 'coaxial'],
  [/\bstands? [^ ]+ at most\b/i, 'is rated for'],
  [/\bThat is flown\b/i, 'Builders do fly this'],
  [/\bturns a (?:minute|second)\b/i, 'turns per second'],
  [/\bvolts a cell\b/i, 'volts per cell'],
  [/\bthan (?:it|they) (?:can )?stands?\b/i, 'than it is rated for'],
  [/\bIt is asked because\b/i, 'Reason:'],
  [/\bfour-in-one with\b/i, 'all-in-one'],
  [/\bhow far off it may be\b/i, 'its uncertainty'],
  [/\b(?:is|are|be) surer\b/i, 'has a smaller ±'],
  [/\bmakes the next card\b/i, 'narrows the ± of the next card'],
  [/\bmisses what was asked\b/i, 'misses a requirement'],
  [/\bnothing hangs on\b|\brequirement hangs on\b/i, 'supplies no load; depends on'],
  [/\bsays its (?:mass|drag area|wheelbase)\b|\bdoes not say its\b/i, 'states'],
  [/\bseasons?\b/i, 'cycles'],
  [/\bwhat (?:it|each build) comes to\b/i, 'value, results'],
  [/\bwhat one channel (?:of .* )?stands for\b/i, 'continuous rating'],
  [/\bwhen not said\b/i, 'default'],
  [/\bwithout a mark, the ±/i, '* marks a difference that is larger than its ±'],
];

/** Syntax is quoted as it is: code spans and fenced code are not prose. */
const prose = (text: string) => text.replaceAll(/```.*?```/gs, '``').replaceAll(/\\?`[^`\n]*?\\?`/g, '``');

const hits = (text: string) =>
  FORBIDDEN.flatMap(([phrase, instead]) => {
    const [found] = phrase.exec(prose(text)) ?? [];
    return found === undefined ? [] : [`“${found}”: write ${instead}`];
  });

const files = (folder: string, ending: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith(ending) && !/(?:^|[\\/])(?:generated|node_modules)[\\/]/.test(file))
    .map((file) => join(root, folder, file))
    .filter((file) => statSync(file).isFile());

/** The texts of a source file: what its strings and templates say, each value in a template as one mark. */
function texts(file: string): string[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) return;
    if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) found.push(node.text);
    if (ts.isTemplateExpression(node))
      found.push([node.head.text, ...node.templateSpans.map((span) => span.literal.text)].join('0'));
    ts.forEachChild(node, visit);
  };
  visit(source);
  // One word alone is a key or a name of the language; prose has several.
  return found.filter((text) => /\p{L} \p{L}|\p{L}[,.:] |\d \p{L}{2}|\p{L}{2} \d/u.test(text));
}

const found = (file: string, sections: readonly string[]) =>
  sections.flatMap((text) => hits(text).map((hit) => `${relative(root, file)}: ${hit}: ${text.slice(0, 120)}`));

describe('plain English', () => {
  it('has none of the old phrases in what the code says', () => {
    const sources = ['packages/language/src', 'packages/extension/src'].flatMap((folder) => files(folder, '.ts'));
    expect(sources.length).toBeGreaterThan(200);
    expect(sources.flatMap((file) => found(file, texts(file)))).toEqual([]);
  });

  it('has none of the old phrases in pages', () => {
    const pages = [join(root, 'README.md'), ...files('packages/language/reference', '.md')];
    expect(pages.length).toBeGreaterThan(50);
    expect(pages.flatMap((file) => found(file, prose(readFileSync(file, 'utf8')).split('\n')))).toEqual([]);
  });

  it('has none of the old phrases in the library', () => {
    const library = files('packages/language/library', '.fettle');
    expect(library.length).toBeGreaterThan(0);
    expect(library.flatMap((file) => found(file, readFileSync(file, 'utf8').split('\n')))).toEqual([]);
  });
});
