/** What people read is plain English in the words of the trade: phrases that a rewrite took out do not come back. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');

/** `volts a cell`, `one a line`: a rate takes “per”. */
const RATES =
  /\b(?:volts?|amperes?|amps|watts?|grams?|minutes?|seconds?|turns|revolutions|euros?|joules?|one|entry|rpm|mAh?|kg|mm|V|A|W|g|%) an? (?:cell|gram|minute|second|hour|line|channel|motor|rotor|rotor line|rotor group|watt|volt|pack|build|file|row|column)\b/;

/** A phrase that nobody should read, and what to write in its place. One per line, in alphabetical order of the first word. */
const FORBIDDEN: readonly (readonly [RegExp, string])[] = [
  [/\baerials?\b/i, 'antenna'],
  [/\bblocked (?:current|motor)\b/i, 'stall current, stalled'],
  [/\beach gram less gives\b/i, 'one gram more costs'],
  [/\bcannot be meant\b/i, 'is implausible'],
  [/\bchop(?:s|ping)?\b/i, 'PWM frequency'],
  [/\bhangs on\b/i, 'depends on, is supplied by'],
  [/\bheat path\b/i, 'thermal resistance'],
  [/\bin hand\b/i, 'in reserve'],
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
  [/\bvolts a cell\b|, a cell in hover\b/i, 'volts per cell'],
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
  [RATES, 'per'],
  [/\bheld against\b/i, 'compared with'],
  [
    /\bnothing stands\b|\bwhat stands\b|\bcandidates? falls?\b|\b\d+ of \d+ fall\b/i,
    'no candidate passes, is rejected',
  ],
  [/\bforetells?\b/i, 'predicts'],
  [/\bteach(?:es)? nothing\b/i, 'is not used'],
  [/\bstopped by\b/i, 'limited by'],
  [/\bcan (?:be )?turn(?:ed)?\b(?! (?:off|on|in|over))/i, 'can be changed'],
  [/\b(?:winds? (?:the motor )?anew|wound anew)\b/i, 'rewound'],
  [/\bwithout a mark, the ±/i, '* marks a difference that is larger than its ±'],
];

/** Syntax is quoted as it is: code spans and fenced code are not prose. */
const prose = (text: string) => text.replaceAll(/```.*?```/gs, '``').replaceAll(/\\?`[^`\n]*?\\?`/g, '``');

const hits = (text: string, forbidden = FORBIDDEN) =>
  forbidden.flatMap(([phrase, instead]) => {
    const [found] = phrase.exec(prose(text)) ?? [];
    return found === undefined ? [] : [`“${found}”: write ${instead}`];
  });

const files = (folder: string, ending: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith(ending) && !/(?:^|[\\/])(?:generated|node_modules)[\\/]/.test(file))
    .map((file) => join(root, folder, file))
    .filter((file) => statSync(file).isFile());

/** Comments and docstrings: of them only what is wrong in any sentence. */
const FORBIDDEN_IN_COMMENTS: readonly (readonly [RegExp, string])[] = [
  ...FORBIDDEN,
  [/\bhangs? on\b/i, 'depends on'],
  [/\bsays (?:so|why)\b/i, 'reports it, gives the reason'],
  [/\b(?:told|tells?) apart\b/i, 'distinguish'],
  [/\bstands? for (?:a|an|the|it|them|each|one)\b/i, 'represents'],
  [/\bnobody (?:can say|says)\b/i, 'cannot be known, is not stated'],
];

function comments(file: string): string[] {
  const text = readFileSync(file, 'utf8');
  const scanner = ts.createScanner(ts.ScriptTarget.Latest, false, ts.LanguageVariant.Standard, text);
  const found: string[] = [];
  for (let token = scanner.scan(); token !== ts.SyntaxKind.EndOfFileToken; token = scanner.scan())
    if (token === ts.SyntaxKind.SingleLineCommentTrivia || token === ts.SyntaxKind.MultiLineCommentTrivia)
      found.push(scanner.getTokenText().replaceAll(/\n\s*\* ?/g, ' '));
  return found;
}

/** The texts of a source file: what its strings and templates state, each value in a template as one mark. */
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

const found = (file: string, sections: readonly string[], forbidden = FORBIDDEN) =>
  sections.flatMap((text) =>
    hits(text, forbidden).map((hit) => `${relative(root, file)}: ${hit}: ${text.slice(0, 120)}`),
  );

describe('plain English', () => {
  it('has none of the old phrases in the texts of the code', () => {
    const sources = ['packages/language/src', 'packages/extension/src'].flatMap((folder) => files(folder, '.ts'));
    expect(sources.length).toBeGreaterThan(200);
    expect(sources.flatMap((file) => found(file, texts(file)))).toEqual([]);
  });

  it('has none of the old phrases in comments', () => {
    const sources = ['packages/language/src', 'packages/extension/src', 'packages/extension/view'].flatMap((folder) =>
      files(folder, '.ts'),
    );
    expect(sources.flatMap((file) => found(file, comments(file), FORBIDDEN_IN_COMMENTS))).toEqual([]);
  });

  it('has none of the old phrases in pages', () => {
    const readmes = ['README.md', 'CONTRIBUTING.md', 'packages/language/README.md', 'packages/extension/README.md'];
    const pages = [...readmes.map((page) => join(root, page)), ...files('packages/language/reference', '.md')];
    expect(pages.length).toBeGreaterThan(50);
    expect(pages.flatMap((file) => found(file, prose(readFileSync(file, 'utf8')).split('\n')))).toEqual([]);
  });

  it('has none of the old phrases in the library', () => {
    const library = files('packages/language/library', '.fettle');
    expect(library.length).toBeGreaterThan(0);
    expect(library.flatMap((file) => found(file, readFileSync(file, 'utf8').split('\n')))).toEqual([]);
  });
});
