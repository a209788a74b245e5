/** Identifiers of the findings, each with a sentence: what `accept`, `raise` and `lower` may name. Stable once given. */
import { keysOf } from '../units/lookup-table.ts';

/** About a craft. */
export interface CraftFinding {
  /** What it means, in a sentence. */
  readonly description: string;
  /** On which side of today's first number it is worse: only where that is above does a number guard an acceptance. */
  readonly worse: 'above' | 'below' | 'neither';
  /** Somebody required it: the craft misses it, and may be sound all the same. */
  readonly isWish?: true;
  /** On the file and what is known, not on the craft: it has no check of its own, is not accepted and keeps its severity. */
  readonly isNote?: true;
}

export const CRAFT_FINDINGS = {
  'motor-overvoltage': { description: 'The motor sees more volts than it was wound for.', worse: 'above' },
  'motor-overcurrent': { description: 'The motor draws more current than it is rated for.', worse: 'above' },
  'motor-overpower': { description: 'The motor takes more power than it is rated for.', worse: 'above' },
  'motor-overspeed': { description: 'The propeller turns faster than is good for it.', worse: 'above' },
  'motor-overheat': { description: 'The winding gets hotter than it is rated for.', worse: 'above' },
  'esc-overvoltage': { description: 'The pack has more cells than the board is made for.', worse: 'above' },
  'esc-undervoltage': { description: 'The pack has fewer cells than the board is made for.', worse: 'below' },
  'esc-overcurrent': {
    description: 'More current flows through a channel of the board than it is rated for.',
    worse: 'above',
  },
  'pack-overcurrent': { description: 'The pack has to give more than is good for it.', worse: 'above' },
  'pack-oversag': { description: 'The cell voltage falls lower than is good for the cells.', worse: 'neither' },
  'pack-heavy': { description: 'The pack weighs more than it is worth.', worse: 'above' },
  'pack-too-large': { description: 'The pack does not fit the bay.', worse: 'above' },
  'lead-overcurrent': { description: 'More current flows through the lead than it is rated for.', worse: 'above' },
  'lead-drop': { description: 'The lead costs too many volts.', worse: 'above' },
  'plug-overcurrent': { description: 'More current flows through the plug than it is rated for.', worse: 'above' },
  'plug-mismatch': { description: 'The plugs do not fit each other.', worse: 'neither' },
  'rail-undervoltage': { description: 'A load gets fewer volts than it needs.', worse: 'below' },
  'rail-overvoltage': { description: 'A load gets more voltage than it is rated for.', worse: 'above' },
  'rail-overcurrent': { description: 'A rail delivers more than it can.', worse: 'above' },
  'regulator-overvoltage': { description: 'A regulator gets more voltage than it is rated for.', worse: 'above' },
  'regulator-undervoltage': { description: 'A regulator gets less voltage than it needs.', worse: 'below' },
  'regulator-overheat': { description: 'A regulator gets hotter than it is rated for.', worse: 'above' },
  'regulator-dropout': {
    description: 'A regulator cannot keep its output voltage: its input is too low.',
    worse: 'neither',
  },
  overweight: { description: 'It weighs more than required.', worse: 'above', isWish: true },
  'mass-unexplained': { description: 'The scale and the list of parts do not agree.', worse: 'above' },
  'low-thrust': { description: 'Too little thrust for its weight.', worse: 'below' },
  'high-hover-duty': { description: 'It hovers too near full duty.', worse: 'above' },
  'cannot-hover': { description: 'It does not get off the ground.', worse: 'neither' },
  'short-flight': { description: 'It flies for less time than required.', worse: 'below', isWish: true },
  'flight-too-long': { description: 'The pack does not store enough for a flight.', worse: 'above', isWish: true },
  'leg-unflyable': { description: 'A leg of a flight is faster than the craft can fly.', worse: 'below', isWish: true },
  'flight-ends-aloft': { description: 'A flight climbs and does not come down.', worse: 'above', isWish: true },
  'weak-in-wind': { description: 'It withstands less wind than required.', worse: 'below', isWish: true },
  'propeller-too-large': { description: 'The propeller does not fit its duct or guard.', worse: 'above' },
  'propeller-close': { description: 'Two propellers come too close to each other.', worse: 'neither' },
  'bolt-mismatch': { description: 'The bolts do not fit the holes.', worse: 'neither' },
  'shaft-mismatch': { description: 'The propeller does not fit the shaft.', worse: 'neither' },
  'screw-too-long': { description: 'A screw reaches the winding.', worse: 'above' },
  'board-mismatch': { description: 'The board does not fit its bolts.', worse: 'neither' },
  'rotor-count': { description: 'Motors, channels and arms are not equally many.', worse: 'neither' },
  'claims-disagree': { description: "A part's own figures contradict each other.", worse: 'neither' },
  'observed-disagrees': { description: 'What was observed contradicts what else is known.', worse: 'above' },
  'measurement-set-aside': {
    description: 'A measurement cannot be; nothing is learnt from it.',
    worse: 'neither',
  },
  'estimate-gives-way': {
    description: 'What was measured lies beyond the ± of what was stated or estimated.',
    worse: 'neither',
  },
  'pack-aged': { description: 'A pack resists twice as much as it did.', worse: 'neither' },
  'pwm-low': { description: 'A low PWM frequency costs power.', worse: 'above' },
  'mount-resonance': { description: 'The mount rings at the speed of the rotors.', worse: 'above' },
  'requirement-fails': { description: 'A requirement fails, or likely does.', worse: 'neither', isWish: true },
  'requirement-unsure': {
    description: 'A requirement likely holds, but the figures do not decide it.',
    worse: 'neither',
    isWish: true,
  },
  'stale-acceptance': {
    description: 'Accepts a finding that does not exist, or gives no reason.',
    worse: 'neither',
    isNote: true,
  },
  estimates: {
    description: 'What was estimated, and which measurement would narrow it most.',
    worse: 'neither',
    isNote: true,
  },
} as const satisfies Readonly<Record<string, CraftFinding>>;

/** About the text itself. */
export const TEXT_FINDINGS = {
  syntax: 'The text cannot be read here.',
  'unknown-name': 'Nothing has that name.',
  'wrong-kind': 'The name is of another kind of part.',
  'wrong-dimension': 'A unit of the wrong sort.',
  'missing-unit': 'A number without its unit.',
  'unknown-unit': 'No such unit.',
  'number-form': 'A decimal comma, or a space inside a number or a unit.',
  'implausible-value': 'No real part has such a figure.',
  'missing-value': 'Something needed is not there.',
  duplicate: 'Stated twice.',
  'one-a-line': 'Two things on one line.',
  clause: 'A word after the value that does not belong there.',
  'like-cycle': 'A part is like itself in the end, or like too many others in a row.',
  'former-name': 'A former name of the language.',
  'use-missing': 'The file or folder to use does not exist.',
  'unused-use': 'Nothing of what is used is needed.',
  'newer-version': 'The file is written for a newer version of the language.',
} as const satisfies Readonly<Record<string, string>>;

export type CheckId = keyof typeof CRAFT_FINDINGS;
type NoteId = { [Id in CheckId]: (typeof CRAFT_FINDINGS)[Id] extends { isNote: true } ? Id : never }[CheckId];
/** Each has a file of its name in `checks/craft`. */
export type CraftCheckId = Exclude<CheckId, NoteId>;
export type TextId = keyof typeof TEXT_FINDINGS;
export type FindingId = CheckId | TextId;

const craftFindings = new Map<string, CraftFinding>(Object.entries(CRAFT_FINDINGS));
const sentences = new Map<string, string>([
  ...[...craftFindings].map(([id, { description }]) => [id, description] as const),
  ...Object.entries(TEXT_FINDINGS),
]);

export const CRAFT_CHECK_IDS: readonly CraftCheckId[] = keysOf(CRAFT_FINDINGS).filter(
  (id): id is CraftCheckId => !craftFindings.get(id)?.isNote,
);

/** Whether a higher first number is a worse one. */
export const isWorseAbove = (id: string): boolean => craftFindings.get(id)?.worse === 'above';

export const isWish = (id: string): boolean => craftFindings.get(id)?.isWish === true;

/** Whether it is about the craft itself, so that it can be accepted, raised and lowered. */
export const isAboutCraft = (id: string): boolean => craftFindings.has(id) && !craftFindings.get(id)?.isNote;

/** All identifiers, in the order in which the pages list them. */
export const FINDING_IDS: readonly FindingId[] = [...keysOf(CRAFT_FINDINGS), ...keysOf(TEXT_FINDINGS)];

export function isFindingId(text: string): text is FindingId {
  return sentences.has(text);
}

/** One sentence on what the finding means; undefined when there is none of that name. */
export function describeFinding(id: string): string | undefined {
  return sentences.get(id);
}
