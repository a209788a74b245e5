/** What people read is plain English in the words of the trade: phrases that a rewrite took out do not come back. */
import { globSync, readdirSync, readFileSync, statSync } from 'node:fs';
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
  [/\bcarr(?:y|ies) (?:more )?current\b/i, 'current through'],
  [/\bhas seconds\b|\bflies like a brick\b/i, 'what happens, in plain words'],
  [/\bheat to shed\b/i, 'gets too hot'],
  [/\bof pages\b(?= ?(?:\||$))/i, 'of data sheets'],
  [/\b(?:page|sheet|file|file it|line|message|build|rules?|part|label|figures) says?\b/i, 'states'],
  [/\bput(?:s|ting)? it in words\b/i, 'states'],
  [/\bstands? (?:first|between|in the (?:wrong|first|summary))\b/i, 'is'],
  [/\btold apart\b|\btells? .{1,60} apart\b/i, 'distinguishes'],
  [/\bwithout a mark, the ±/i, '* marks a difference that is larger than its ±'],
];

/** Names in the code: the same verbs, and what they were called for. */
const FORBIDDEN_NAME =
  /^(?:tell|told|said|speak|spoken|hang|hung)(?![a-z])|(?:Told|Said|Speaking|Hanging)(?![a-z])|^(?:TOLD|SAID)(?![A-Z])/;

/** Syntax is quoted as it is: code spans and fenced code are not prose. */
const prose = (text: string) => text.replaceAll(/```.*?```/gs, '``').replaceAll(/\\?`[^`\n]*?\\?`/g, '``');

function hits(text: string, forbidden = FORBIDDEN): string[] {
  const read = prose(text);
  return forbidden.flatMap(([phrase, instead]) => {
    const [found] = phrase.exec(read) ?? [];
    return found === undefined ? [] : [`“${found}”: write ${instead}`];
  });
}

const files = (folder: string, ending: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith(ending) && !/(?:^|[\\/])(?:generated|node_modules)[\\/]/.test(file))
    .map((file) => join(root, folder, file))
    .filter((file) => statSync(file).isFile());

/** Comments, docstrings and names of tests: no verbs of speech or furniture for technical relations. */
const FORBIDDEN_IN_COMMENTS: readonly (readonly [RegExp, string])[] = [
  ...FORBIDDEN,
  [/\bhangs?\b|\bhung\b/i, 'depends on, is fed from, loops'],
  [/\b(?:says?|said)\b/i, 'states, reports, prints'],
  [/\b(?:tells?|told)\b/i, 'reports, notifies, distinguishes'],
  [/\bspeaks?\b|\bspoken\b/i, 'is about, reports'],
  [/\bstood\b|\b(?:it|they|which|that|what|line|lines|name|names) stands?\b/i, 'is, is written'],
  [/\bbeside\b/i, 'next to, in addition to, compared with'],
  [/\bheld (?:against|to be|back)\b/i, 'compared with, taken as, left out'],
  [/\b(?:it|they|each|leg|flight|build) comes? to\b/i, 'its value, its results'],
  [/\bstands? for (?:a|an|the|it|them|each|one)\b/i, 'represents'],
  [/\bnobody (?:can say|says)\b/i, 'cannot be known, is not stated'],
];

interface Words {
  readonly comments: string[];
  /** Names that the file declares or uses. */
  readonly identifiers: Set<string>;
  /** Names of its tests. */
  readonly tests: string[];
  /** What its strings and templates state, each value in a template as one mark. */
  readonly texts: string[];
}

const { SyntaxKind: Kind } = ts;
const OPENING: ReadonlySet<ts.SyntaxKind> = new Set([
  Kind.OpenParenToken,
  Kind.OpenBracketToken,
  Kind.OpenBraceToken,
  Kind.TemplateHead,
]);
const CLOSING: ReadonlySet<ts.SyntaxKind> = new Set([
  Kind.CloseParenToken,
  Kind.CloseBracketToken,
  Kind.CloseBraceToken,
  Kind.TemplateTail,
]);
/** Behind these a slash divides; a name may be a word that the language uses elsewhere. */
const isOperand = (token: ts.SyntaxKind): boolean =>
  CLOSING.has(token) ||
  token === Kind.Identifier ||
  token === Kind.PrivateIdentifier ||
  token > Kind.LastReservedWord ||
  (token >= Kind.FirstLiteralToken && token <= Kind.LastTemplateToken) ||
  [Kind.ThisKeyword, Kind.SuperKeyword, Kind.NullKeyword, Kind.TrueKeyword, Kind.FalseKeyword].includes(token);

/** All of a source file that somebody reads. From its tokens: to parse a thousand files takes five times as long. */
function wordsOf(file: string): Words {
  const written = readFileSync(file, 'utf8');
  const scanner = ts.createScanner(ts.ScriptTarget.Latest, false, ts.LanguageVariant.Standard, written);
  const words: Words = { comments: [], identifiers: new Set(), tests: [], texts: [] };
  /** What is open: whether it is a call of `it`, `describe` or `test`, and of a template what it states so far. */
  const open: { readonly isTest: boolean; readonly template?: string[] }[] = [];
  let isTest = false;
  /** Of types, in `it.each<…>(…)`. */
  let angles = 0;
  let before: ts.SyntaxKind = Kind.Unknown;
  for (let token = scanner.scan(); token !== Kind.EndOfFileToken; token = scanner.scan()) {
    if (token === Kind.SingleLineCommentTrivia || token === Kind.MultiLineCommentTrivia)
      words.comments.push(scanner.getTokenText().replaceAll(/\n\s*\* ?/g, ' '));
    if (token <= Kind.LastTriviaToken) continue;
    if (isTest && (token === Kind.LessThanToken || angles > 0)) {
      if (token === Kind.LessThanToken) angles += 1;
      if (token === Kind.GreaterThanToken) angles -= 1;
      continue;
    }
    const { template } = open.at(-1) ?? {};
    if (token === Kind.CloseBraceToken && template) token = scanner.reScanTemplateToken(false);
    if ((token === Kind.SlashToken || token === Kind.SlashEqualsToken) && !isOperand(before))
      token = scanner.reScanSlashToken();

    const text = scanner.getTokenValue();
    if (token === Kind.Identifier || token === Kind.PrivateIdentifier) words.identifiers.add(text.replace('#', ''));
    if (token === Kind.StringLiteral || token === Kind.NoSubstitutionTemplateLiteral) {
      words.texts.push(text);
      if (open.at(-1)?.isTest) words.tests.push(text);
    }
    if (token === Kind.TemplateMiddle || token === Kind.TemplateTail) template?.push(text);
    if (token === Kind.TemplateTail && template) words.texts.push(template.join('0'));

    if (OPENING.has(token)) {
      open.push({
        isTest: isTest && token === Kind.OpenParenToken,
        ...(token === Kind.TemplateHead && { template: [text] }),
      });
      isTest = false;
    } else if (CLOSING.has(token)) isTest = open.pop()?.isTest ?? false;
    else if (token === Kind.Identifier && before !== Kind.DotToken) isTest = /^(?:it|describe|test)$/.test(text);
    else if (token !== Kind.DotToken && before !== Kind.DotToken) isTest = false;
    before = token;
  }
  return words;
}

/** One word alone is a key, a path or a name of the language; prose has several. */
const isProse = (text: string): boolean => /\p{L} \p{L}|\p{L}[,.:] |\d \p{L}{2}|\p{L}{2} \d/u.test(text);

const known = new Map<string, Words>();

function wordsIn(file: string): Words {
  const words = known.get(file) ?? wordsOf(file);
  known.set(file, words);
  return words;
}

const found = (file: string, sections: readonly string[], forbidden = FORBIDDEN) =>
  sections.flatMap((text) =>
    hits(text, forbidden).map((hit) => `${relative(root, file)}: ${hit}: ${text.slice(0, 120)}`),
  );

describe('plain English', () => {
  it('has none of the old phrases in the texts of the code', () => {
    const sources = [
      'packages/language/src',
      'packages/extension/src',
      'packages/extension/view',
      'packages/playground/src',
      '.github/action',
    ].flatMap((folder) => files(folder, '.ts'));
    expect(sources.length).toBeGreaterThan(200);
    // The table of synonyms lists what others write.
    const written = sources.filter((file) => !/[\\/]synonyms\.ts$/.test(file));
    expect(written.flatMap((file) => found(file, wordsIn(file).texts.filter(isProse)))).toEqual([]);
  });

  const OWN = /[\\/]plain-english\.test\.ts$/;
  const everywhere = [
    'packages/language/src',
    'packages/extension/src',
    'packages/extension/view',
    'packages/playground/src',
    '.github/action',
    'test',
  ]
    .flatMap((folder) => files(folder, '.ts'))
    .concat(globSync(['*.ts', 'packages/*/*.{ts,mts}'], { cwd: root }).map((file) => join(root, file)))
    .filter((file) => !OWN.test(file) && !/[\\/](?:schemas|dist)[\\/]/.test(file));

  it('has none of the old phrases in comments', () => {
    expect(everywhere.flatMap((file) => found(file, wordsIn(file).comments, FORBIDDEN_IN_COMMENTS))).toEqual([]);
  });

  it('has no verbs of speech or furniture in names of tests, nor in names in the code', () => {
    expect(everywhere.flatMap((file) => found(file, wordsIn(file).tests, FORBIDDEN_IN_COMMENTS))).toEqual([]);
    const wrong = everywhere.flatMap((file) =>
      [...wordsIn(file).identifiers]
        .filter((name) => FORBIDDEN_NAME.test(name))
        .map((name) => `${relative(root, file)}: ${name}`),
    );
    expect(wrong).toEqual([]);
  });

  it('has none of the old phrases in pages', () => {
    const readmes = [
      'README.md',
      'CHANGELOG.md',
      'CONTRIBUTING.md',
      'packages/language/README.md',
      'packages/extension/README.md',
    ];
    const pages = [...readmes.map((page) => join(root, page)), ...files('packages/language/reference', '.md')];
    expect(pages.length).toBeGreaterThan(50);
    // The index of words lists what others write.
    const lines = (file: string) => prose(readFileSync(file, 'utf8')).split('\n');
    const written = pages.filter((file) => !/[\\/]words\.md$/.test(file));
    expect(written.flatMap((file) => found(file, lines(file)))).toEqual([]);
  });

  it('has none of the old phrases in the actions and hooks', () => {
    const described = ['.yml', '.yaml'].flatMap((ending) => files('.github', ending));
    expect(described.length).toBeGreaterThan(4);
    const lines = (file: string) => readFileSync(file, 'utf8').split('\n');
    expect(described.flatMap((file) => found(file, lines(file), FORBIDDEN_IN_COMMENTS))).toEqual([]);
  });

  it('has none of the old phrases in the library', () => {
    const library = files('packages/language/library', '.fettle');
    expect(library.length).toBeGreaterThan(0);
    expect(library.flatMap((file) => found(file, readFileSync(file, 'utf8').split('\n')))).toEqual([]);
  });
});
