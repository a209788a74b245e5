/** Craft that others flew and logged, see `test/reference/flight-logs`. What their pages do not state is taken from what such sizes usually have. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CheckedDocument } from '../../packages/language/src/checks/run.ts';
import type { Build } from '../../packages/language/src/model/build.ts';
import { checkedOnce, judgedIn } from '../checks/findings-in.ts';

const LOGS = join(import.meta.dirname, '../reference/flight-logs');

/** The 3.7 kg craft. Stator and kv are ours: a usual motor for these propellers on six cells. */
const CARRIER = `motor Stator3510 { stator: 35 x 10 mm  kv: 480 rpm/V  mass: 120 g }
propeller P13 { diameter: 344 mm  pitch: 114 mm  blades: 2  mass: 15 g }
esc Board { channels: 4  continuous: 40 A  mass: 120 g }
`;
export const pack = (more: string): string =>
  `pack Six { cells: 6S  capacity: 4500 mAh  discharge: 25C  mass: 635 g  ${more} }\n`;

const BUILD = `  dry_mass: 3080 g
  motors: 4 x Stator3510 with P13
  esc: Board
  pack: Six
  burst: 1.5 x hover for 1 s
`;

export const observed = (flight: string, columns: string): string =>
  `  observed "flight ${flight}" with Six {\n    log ${columns} from "flight-${flight}.csv"\n  }\n`;

export const carrier = (lines: string, pack: string, loaded = ''): string =>
  `${CARRIER}${pack}build Carrier {\n${BUILD}${lines}}\nbuild Loaded like Carrier {\n  item: 250 g "parcel"\n${loaded}}\n`;

/** The 27 g craft. Stator and kv are ours. */
export const NANO = `motor Coreless { stator: 8 x 4 mm  kv: 14000 rpm/V  mass: 2.7 g }
propeller P47 { diameter: 47 mm  pitch: 25 mm  blades: 2  mass: 0.3 g }
esc Board { channels: 4  continuous: 2 A  mass: 5 g }
pack One { cells: 1S  capacity: 250 mAh  discharge: 15C  mass: 7 g }
build Nano {
  dry_mass: 20 g
  motors: 4 x Coreless with P47
  esc: Board
  pack: One
  observed "two hops" with One {
    log time, voltage from "small-normal.csv"
  }
}
`;

const FILES = ['flight-223.csv', 'flight-260.csv', 'flight-261.csv', 'small-normal.csv'];

const logs = Object.fromEntries(FILES.map((file) => [file, readFileSync(join(LOGS, file), 'utf8')]));

export async function checkedWithLogs(text: string): Promise<CheckedDocument> {
  const checked = (await checkedOnce({ ...logs, 'a.fettle': text }))['a.fettle'];
  if (!checked) throw new Error('a text is expected');
  return checked;
}

/** The builds alone, as they are read. */
export async function readWithLogs(text: string): Promise<readonly Build[]> {
  return (await judgedIn({ ...logs, 'a.fettle': text }, ({ builds }) => builds))['a.fettle'] ?? [];
}
