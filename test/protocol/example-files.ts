/** The example craft as files of a workspace. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { cases } from '../long.ts';

const root = join(import.meta.dirname, '../../examples');

/** What is in these folders by path, `parts/motors.fettle`. */
export const examplesIn = (...folders: readonly string[]): Map<string, string> =>
  new Map(
    folders.flatMap((folder) =>
      readdirSync(join(root, folder)).map((name): [string, string] => [
        `${folder}/${name}`,
        readFileSync(join(root, folder, name), 'utf8'),
      ]),
    ),
  );

/** In an ordinary run without what takes the judge of a build long at each key: all packs but the last, flights, what was observed. */
export const lightly = (text: string): string =>
  cases(0, 1)
    ? text
    : text
        .replace(/^ {2}pack: .*\n(?= {2}pack: )/gm, '')
        .replace(/^flight .*\{\n(?: {2}.*\n)*\}\n\n?/gm, '')
        .replace(/^ {2}flight: .*\n/gm, '')
        .replace(/^ {2}observed .*\{\n(?: {4}.*\n)* {2}\}\n/gm, '');

/** In an ordinary run without some builds that rest on the same parts as others. */
export const fewer = (files: ReadonlyMap<string, string>): Map<string, string> =>
  new Map([...files].filter(([path]) => !/\b(?:belfry|gable|rafter)\./.test(path) || cases(0, 1)));
