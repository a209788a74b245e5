/** A new build as it is completed: with parts that are in reach, or with the nine numbers of a first build as examples to be typed over. */
import { QUESTIONS, type QuestionId } from '../../starter/questions.ts';
import { keysOf } from '../../units/lookup-table.ts';
import { joined } from '../../units/print.ts';
import { escapeSnippet } from './offer.ts';

/** Kinds that a first result needs, with the questions whose answers make such a part. */
const NEEDED = {
  motor: { name: 'Motor', lines: { stator: 'stator', kv: 'kv' } },
  propeller: { name: 'Propeller', lines: { diameter: 'propeller', blades: 'blades' } },
  esc: { name: 'Board', lines: { continuous: 'esc' } },
  load: { name: 'Video', lines: { draw: 'video' } },
  pack: { name: 'Pack', lines: { cells: 'cells', capacity: 'capacity' } },
} as const satisfies Readonly<
  Record<string, { readonly name: string; readonly lines: Readonly<Record<string, QuestionId>> }>
>;

type NeededKind = keyof typeof NEEDED;
export const NEEDED_KINDS = keysOf(NEEDED);

/** The parts of each kind that may be named here, nearest first. */
export type KnownParts = Readonly<Record<NeededKind, readonly string[]>>;

/** More is no choice: completion offers the rest. */
const MOST_CHOICES = 12;

/** With the declarations of what is not there yet; the cursor goes to the name, then from figure to figure. */
export function buildSnippet(known: KnownParts): string {
  const stops = new Stops();
  const head = stops.next('Name');
  const { blocks, lines } = partsOf(known, stops);
  const comment = blocks.length > 0 ? ['// Examples in each figure: type over them.'] : [];
  return [...comment, ...blocks, `build ${head} ${blockOf(lines, stops)}`].join('\n');
}

/** The block alone, where everything it needs can be named. */
export function buildBlockSnippet(known: KnownParts): string | undefined {
  const stops = new Stops();
  const { blocks, lines } = partsOf(known, stops);
  return blocks.length > 0 ? undefined : blockOf(lines, stops);
}

const blockOf = (lines: readonly string[], stops: Stops): string =>
  `{\n${[...lines, `dry_mass: ${figure('dryMass', stops)}`].map((line) => `  ${line}\n`).join('')}}$0`;

function partsOf(known: KnownParts, stops: Stops): { readonly blocks: string[]; readonly lines: string[] } {
  const blocks: string[] = [];
  const named = (kind: NeededKind): string => {
    const choices = known[kind].slice(0, MOST_CHOICES);
    if (choices.length > 0) return stops.choice(choices);
    const { name, lines } = NEEDED[kind];
    const declared = stops.next(name);
    const again = stops.again();
    const written = Object.entries(lines).map(([property, id]) => `  ${property}: ${figure(id, stops)}\n`);
    blocks.push(`${kind} ${declared} {\n${written.join('')}}\n`);
    return again;
  };
  const isFirst = known.motor.length === 0;
  return {
    blocks,
    lines: [
      `motors: 4 x ${named('motor')} with ${named('propeller')}`,
      `esc: ${named('esc')}`,
      ...(isFirst ? [`load: ${named('load')}`] : []),
      `pack: ${named('pack')}`,
    ],
  };
}

/** The example of a question as a place to type over, its unit behind it. */
function figure(id: QuestionId, stops: Stops): string {
  const question = QUESTIONS.find((one) => one.id === id);
  const { number, unit } = question?.read(question.examples[0]).printed ?? { number: '', unit: '' };
  return joined({ number: stops.next(number), unit });
}

class Stops {
  #last = 0;

  next(usual: string): string {
    this.#last += 1;
    return `\${${this.#last}:${escapeSnippet(usual)}}`;
  }

  /** The latest place once more: it follows what is typed there. */
  again(): string {
    return `\${${this.#last}}`;
  }

  choice(names: readonly string[]): string {
    this.#last += 1;
    return `\${${this.#last}|${names.map(escapeSnippet).join(',')}|}`;
  }
}
