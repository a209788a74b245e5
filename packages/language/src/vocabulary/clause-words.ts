/** What the clauses of a line are for, in a few words: for completion and for the help on a line. */
import type { ClauseWord, Property } from './schema.ts';

const USUAL: Readonly<Record<ClauseWord, string>> = {
  after: 'after how long',
  at: 'the condition under which the figure holds',
  for: 'for how long',
  of: 'of what',
  on: 'on what',
  with: 'with what',
  from: 'what feeds it',
  to: 'up to',
  in: 'in what',
  duty: 'the duty limit: the cap on motor output set in the flight controller',
  as: 'a name of its own in this build, where several are alike',
  like: 'all that are made from it',
  step: 'from one value to the next',
  hover: 'in one place',
  climb: 'upwards',
  descent: 'downwards',
  home: 'the way back to where the legs began',
  release: 'what stays behind: it weighs and draws no more',
  against: 'a wind from ahead',
};

/** By the property and its clause, where the word alone does not state it. */
const OF_PROPERTY: ReadonlyMap<string, string> = new Map([
  ['pack with', 'a second pack, joined to the first'],
  ['pack in', 'how several are joined'],
  ['motors with', 'the propeller on each'],
  ['upper_motors with', 'the propeller on each'],
  ['lower_motors with', 'the propeller on each'],
  ['load on', 'what it is mounted on'],
  ['flight with', 'on this pack only'],
  ['leg with', 'a wind from behind'],
  ['leg at', 'the speed through the air'],
  ['price for', 'how many that buys'],
  ['flown at', 'at which multiple of hover thrust'],
  ['reserve of', 'of the capacity of the pack'],
  ['lead of', 'the gauge or area of its wire'],
  ['vary in', 'the folder or file of the parts, or the range of the figure'],
  ['vary of', 'the part that has the figure'],
  ['vary duty', 'the duty limits that are tried'],
]);

/** `at` a value of this unit. */
const AT_UNIT: ReadonlyMap<string, string> = new Map([
  ['V', 'at which voltage'],
  ['degC', 'at which temperature'],
  ['m', 'at which height above the sea'],
  ['mm', 'its position, for the balance'],
]);

export function clauseWords({ name, clauses }: Property, word: ClauseWord): string {
  const unit = clauses?.[word]?.unit;
  const atUnit = word === 'at' && unit !== undefined ? AT_UNIT.get(unit) : undefined;
  return OF_PROPERTY.get(`${name} ${word}`) ?? atUnit ?? USUAL[word];
}
