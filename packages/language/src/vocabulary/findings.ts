/** Identifiers of the findings, each with a sentence: what `accept`, `raise` and `lower` may name. Stable once given. */

/** About a craft. */
export const CRAFT_FINDINGS = {
  'motor-overvoltage': 'The motor sees more volts than it was wound for.',
  'motor-overcurrent': 'The motor draws more current than it is rated for.',
  'motor-overpower': 'The motor takes more power than it is rated for.',
  'motor-overspeed': 'The propeller turns faster than is good for it.',
  'motor-overheat': 'The winding gets hotter than it is rated for.',
  'esc-overvoltage': 'The pack has more cells than the board is made for.',
  'esc-undervoltage': 'The pack has fewer cells than the board is made for.',
  'esc-overcurrent': 'A channel of the board carries more current than it is rated for.',
  'pack-overcurrent': 'The pack has to give more than is good for it.',
  'pack-oversag': 'The cells fall lower than is good for them.',
  'pack-heavy': 'The pack weighs more than it is worth.',
  'pack-too-large': 'The pack does not fit the bay.',
  'lead-overcurrent': 'The lead carries more current than it is rated for.',
  'lead-drop': 'The lead costs too many volts.',
  'plug-overcurrent': 'The plug carries more current than it is rated for.',
  'plug-mismatch': 'The plugs do not fit each other.',
  'rail-undervoltage': 'A load gets fewer volts than it needs.',
  'rail-overvoltage': 'A load gets more voltage than it is rated for.',
  'rail-overcurrent': 'A rail delivers more than it can.',
  'regulator-overvoltage': 'A regulator gets more voltage than it is rated for.',
  'regulator-undervoltage': 'A regulator gets less voltage than it needs.',
  'regulator-overheat': 'A regulator gets hotter than it is rated for.',
  'regulator-dropout': 'A regulator cannot keep its output voltage: its input is too low.',
  overweight: 'It weighs more than required.',
  'mass-unexplained': 'The scale and the list of parts do not agree.',
  'low-thrust': 'Too little thrust for its weight.',
  'high-hover-duty': 'It hovers too near full duty.',
  'cannot-hover': 'It does not get off the ground.',
  'short-flight': 'It flies for less time than required.',
  'weak-in-wind': 'It withstands less wind than required.',
  'propeller-too-large': 'The propeller does not fit its duct or guard.',
  'propeller-close': 'Two propellers come too close to each other.',
  'bolt-mismatch': 'The bolts do not fit the holes.',
  'shaft-mismatch': 'The propeller does not fit the shaft.',
  'screw-too-long': 'A screw reaches the winding.',
  'board-mismatch': 'The board does not fit its bolts.',
  'rotor-count': 'Motors, channels and arms are not equally many.',
  'claims-disagree': "A part's own figures contradict each other.",
  'observed-disagrees': 'What was observed contradicts what else is known.',
  'estimate-gives-way': 'What was measured lies beyond the ± of what was stated or estimated.',
  'pack-aged': 'A pack resists twice as much as it did.',
  'pwm-low': 'A low PWM frequency costs power.',
  'mount-resonance': 'The mount rings at the speed of the rotors.',
  'requirement-fails': 'A requirement fails, or likely does.',
  'requirement-unsure': 'A requirement likely holds, but the figures do not decide it.',
  'stale-acceptance': 'Accepts a finding that does not exist, or gives no reason.',
  estimates: 'What was estimated, and which measurement would narrow it most.',
} as const satisfies Readonly<Record<string, string>>;

/** Findings whose first number grows when they get worse: only there a number guards the acceptance. */
export const WORSE_ABOVE: ReadonlySet<string> = new Set<keyof typeof CRAFT_FINDINGS>([
  'motor-overvoltage',
  'motor-overcurrent',
  'motor-overpower',
  'motor-overspeed',
  'motor-overheat',
  'esc-overvoltage',
  'esc-overcurrent',
  'pack-overcurrent',
  'pack-heavy',
  'pack-too-large',
  'lead-overcurrent',
  'lead-drop',
  'plug-overcurrent',
  'rail-overvoltage',
  'rail-overcurrent',
  'regulator-overvoltage',
  'regulator-overheat',
  'overweight',
  'mass-unexplained',
  'high-hover-duty',
  'propeller-too-large',
  'screw-too-long',
  'observed-disagrees',
  'pwm-low',
  'mount-resonance',
]);

/** Findings about what somebody required: the craft misses it, and may be sound all the same. */
export const WISHES: ReadonlySet<string> = new Set<keyof typeof CRAFT_FINDINGS>([
  'overweight',
  'short-flight',
  'weak-in-wind',
  'requirement-fails',
  'requirement-unsure',
]);

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
  duplicate: 'Said twice.',
  'one-a-line': 'Two things on one line.',
  clause: 'A word after the value that does not belong there.',
  'like-cycle': 'A part is like itself in the end, or like too many others in a row.',
  'former-name': 'A former name of the language.',
  'use-missing': 'The file or folder to use does not exist.',
  'unused-use': 'Nothing of what is used is needed.',
  'newer-version': 'The file is written for a newer version of the language.',
} as const satisfies Readonly<Record<string, string>>;

export type CheckId = keyof typeof CRAFT_FINDINGS;
export type TextId = keyof typeof TEXT_FINDINGS;
export type FindingId = CheckId | TextId;

const sentences = new Map<string, string>(Object.entries({ ...CRAFT_FINDINGS, ...TEXT_FINDINGS }));

/** All identifiers, in the order in which the pages list them. */
export const FINDING_IDS: readonly string[] = [...sentences.keys()];

export function isFindingId(text: string): text is FindingId {
  return sentences.has(text);
}

/** One sentence on what the finding means; undefined when there is none of that name. */
export function describeFinding(id: string): string | undefined {
  return sentences.get(id);
}
