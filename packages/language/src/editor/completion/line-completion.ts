/** What may begin a line: kinds at the top of a file, properties and sentences in a block. */
import { CompletionItemKind } from 'vscode-languageserver-types';
import { BLOCK_KINDS, schemaOf } from '../../vocabulary/properties.ts';
import type { BlockKind, BlockSchema, Property } from '../../vocabulary/schema.ts';
import { documentationOf } from '../property-text.ts';
import { buildSnippet, type KnownParts } from './build-snippet.ts';
import { escapeSnippet, keywordOffer, type Offer } from './offer.ts';

/** What a file is begun with. */
const FIRST_KINDS: readonly BlockKind[] = ['build', 'motor'];

/** Whole parts and builds, and what else is at the top of a file. */
export function topLevelOffers(isFirstLine: boolean, known: KnownParts): Offer[] {
  const kinds = BLOCK_KINDS.filter((kind) => kind !== 'rail' && kind !== 'observed' && !FIRST_KINDS.includes(kind));
  return [
    ...[...FIRST_KINDS, ...kinds].map((kind) => kindOffer(kind, known)),
    keywordOffer('use', 'Makes the parts of a folder or a file available here.', { snippet: 'use "$1"' }),
    ...(isFirstLine ? [keywordOffer('fettle', 'The version of the language: `fettle 1`.', { text: 'fettle 1' })] : []),
  ];
}

function kindOffer(kind: BlockKind, known: KnownParts): Offer {
  const { description } = schemaOf(kind);
  return {
    label: kind,
    kind: CompletionItemKind.Class,
    documentation: description,
    snippet: kind === 'build' ? buildSnippet(known) : snippetOf(kind),
    group: 0,
  };
}

/** A part or build with the lines that a first result needs. */
function snippetOf(kind: BlockKind): string {
  return `${kind} \${1:Name} ${blockSnippet(kind, 2)}`;
}

/** The block alone; the cursor goes to the first missing figure, the first stop has this number. */
export function blockSnippet(kind: BlockKind, firstStop = 1): string {
  let stop = firstStop - 1;
  const lines = Object.values(schemaOf(kind).properties)
    .filter((property) => isNeeded(property) || property.name === 'mass')
    .map((property) => `  ${property.name}: ${placeholderOf(property, () => ++stop)}`);
  return lines.length === 0 ? '{\n  $0\n}' : `{\n${lines.join('\n')}\n}$0`;
}

function isNeeded(property: Property): boolean {
  return property.required === true || (property.requiredUnless !== undefined && property.name !== 'dry_mass');
}

export function placeholderOf(property: Property, nextStop: () => number): string {
  if (property.words !== undefined && property.shape === 'word') {
    return `\${${nextStop()}|${property.words.map(escapeSnippet).join(',')}|}`;
  }
  if (property.name === 'motors') return `4 x \${${nextStop()}} with \${${nextStop()}}`;
  if (property.shape === 'part') return `\${${nextStop()}}`;
  if (property.shape === 'cells') return `\${${nextStop()}}S`;
  return `\${${nextStop()}}${property.unit === undefined ? '' : ` ${property.unit}`}`;
}

/** Properties of a block, the missing and needed first, and its sentences. `present` are the words that are there already. */
export function lineOffers(
  kind: BlockKind,
  present: ReadonlySet<string>,
  block: { readonly isVariant: boolean; readonly hasColon: boolean },
): Offer[] {
  const schema = schemaOf(kind);
  return [
    ...Object.values(schema.properties)
      .filter((property) => property.repeats === true || !present.has(property.name))
      .map((property) => propertyOffer(property, groupOf(property, schema, present, block.isVariant), block.hasColon)),
    ...sentenceOffers(kind),
  ];
}

function groupOf(property: Property, schema: BlockSchema, present: ReadonlySet<string>, isVariant: boolean): number {
  if (present.has(property.name)) return 2;
  const elsewhere = property.requiredUnless?.some((other) => present.has(other) && other in schema.properties) ?? true;
  const isMissing = property.required === true || !elsewhere;
  return isMissing && !isVariant ? 0 : 1;
}

function propertyOffer(property: Property, group: number, hasColon: boolean): Offer {
  return {
    label: property.name,
    kind: CompletionItemKind.Property,
    text: hasColon ? property.name : `${property.name}: `,
    documentation: documentationOf(property),
    detail: group === 0 ? 'needed' : (property.unit ?? ''),
    group,
  };
}

const NOTE = keywordOffer('note', 'A sentence for the list of assembly or pre-flight.', {
  snippet: 'note "$1"',
  text: 'note ',
});
const ACCEPT = keywordOffer('accept', 'Accepts a finding, with a reason; it is reported again when it gets worse.', {
  text: 'accept ',
});
const REQUIRE = keywordOffer('require', 'Something that must hold: `require hover_time >= 4 min`.', {
  text: 'require ',
});
const KEEP = keywordOffer('keep', 'A margin to a limit: `keep 20 % in reserve on esc.continuous`.', {
  snippet: `keep \${1:20} % in reserve on \${2:esc.continuous}`,
  text: 'keep ',
});
const RAISE = keywordOffer('raise', 'Raises the severity of a finding: `raise pack-oversag to error`.', {
  text: 'raise ',
});
const LOWER = keywordOffer('lower', 'Lowers the severity of a finding: `lower pack-heavy to hint`.', {
  text: 'lower ',
});
const OBSERVED = keywordOffer('observed', 'Readings of scale, charger and clock from one flight.', {
  snippet: `observed "\${1:place, day}" with \${2:pack} {\n  $0\n}`,
  text: 'observed ',
});
const RAIL = keywordOffer('rail', 'A regulated output of this board.', {
  snippet: `rail \${1:video} {\n  output: \${2:10} V\n  continuous: \${3:1} A\n}$0`,
  text: 'rail ',
});
const ROWS = keywordOffer('rows', 'Measured rows, here or in a CSV file.', {
  snippet: 'rows duty in %, voltage in V, current in A, thrust in gf {\n  $0\n}',
  text: 'rows ',
});

const LOG = keywordOffer(
  'log',
  'The log of the flight, a CSV file: rest, hover, bursts and volts over amperes are read from it.',
  {
    snippet: `log time "\${1:time (s)}", voltage "\${2:volts}", current "\${3:amps}" from "$4"`,
    text: 'log ',
  },
);

function sentenceOffers(kind: BlockKind): Offer[] {
  switch (kind) {
    case 'build':
      return [REQUIRE, ACCEPT, OBSERVED, KEEP, RAISE, LOWER, NOTE];
    case 'rules':
      return [REQUIRE, KEEP, RAISE, LOWER, NOTE];
    case 'esc':
      return [RAIL, NOTE];
    case 'bench':
      return [ROWS, NOTE];
    case 'shortlist':
      return [REQUIRE, NOTE];
    case 'observed':
      return [LOG, NOTE];
    default:
      return [NOTE];
  }
}
