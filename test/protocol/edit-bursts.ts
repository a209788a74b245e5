/** Bursts of what people do to files, at random, and what two servers state of the outcome: the one that followed, and a fresh one. */

import { FileChangeType, type FileEvent } from 'vscode-languageserver-protocol';
import { below as lessThan, pick } from '../seeded.ts';
import { MemoryServer, turns } from './memory-server.ts';
import { BOARDS, PACKS, PARTS, RAFTER } from './workshop.ts';

export type Step =
  | { readonly does: 'open'; readonly path: string }
  | { readonly does: 'type'; readonly path: string; readonly text: string }
  | { readonly does: 'save' | 'close'; readonly path: string }
  /** A file or, below a path, many, as another program leaves them. Null: it is gone. */
  | { readonly does: 'write'; readonly texts: Readonly<Record<string, string | null>>; readonly asFolder?: string }
  /** The server has time to get somewhere before the next step. */
  | { readonly does: 'wait'; readonly turns: number }
  | { readonly does: 'settle' };

/** Files as they are on the disk and in the editor. */
export class World {
  readonly disk = new Map<string, string>();
  readonly open = new Map<string, string>();

  constructor(texts: Readonly<Record<string, string>>) {
    for (const [path, text] of Object.entries(texts)) this.disk.set(path, text);
  }
}

/** Sends one step to a server, as an editor would. */
export async function take(step: Step, world: World, server: MemoryServer): Promise<void> {
  switch (step.does) {
    case 'open': {
      const text = world.disk.get(step.path);
      if (text === undefined || world.open.has(step.path)) return;
      world.open.set(step.path, text);
      return server.openText(step.path, text);
    }
    case 'type':
      if (!world.open.has(step.path)) return;
      world.open.set(step.path, step.text);
      return server.changeText(step.path, step.text);
    case 'save': {
      const text = world.open.get(step.path);
      if (text !== undefined) await write({ [step.path]: text }, undefined, world, server);
      return;
    }
    case 'close':
      if (!world.open.delete(step.path)) return;
      return server.closeText(step.path);
    case 'write':
      return write(step.texts, step.asFolder, world, server);
    case 'wait':
      return turns(step.turns);
    case 'settle':
      return server.settled();
  }
}

async function write(
  texts: Readonly<Record<string, string | null>>,
  asFolder: string | undefined,
  world: World,
  server: MemoryServer,
): Promise<void> {
  const events: FileEvent[] = [];
  for (const [path, text] of Object.entries(texts)) {
    const before = world.disk.get(path);
    const key = `/home/${path}`;
    if (text === null) {
      world.disk.delete(path);
      server.files.texts.delete(key);
    } else {
      world.disk.set(path, text);
      server.files.texts.set(key, text);
    }
    if (before === undefined && text === null) continue;
    const type =
      before === undefined ? FileChangeType.Created : text === null ? FileChangeType.Deleted : FileChangeType.Changed;
    events.push(MemoryServer.event(path, type));
  }
  if (asFolder === undefined) return server.notify(events);
  const isGone = Object.values(texts).every((text) => text === null);
  for (const path of isGone ? [...world.disk.keys()] : []) {
    if (!path.startsWith(`${asFolder}/`)) continue;
    world.disk.delete(path);
    server.files.texts.delete(`/home/${path}`);
  }
  return server.notify([MemoryServer.event(asFolder, isGone ? FileChangeType.Deleted : FileChangeType.Created)]);
}

export interface Difference {
  readonly path: string;
  readonly reported: readonly unknown[];
  readonly fresh: readonly unknown[];
}

/**
 * Where a server states something else than one that starts now, with the same files and the same open texts; or, `saved`, with those texts
 * as files.
 */
export async function differences(world: World, server: MemoryServer, saved = false): Promise<Difference[]> {
  await server.settled();
  // What is open and gone from the disk cannot be saved without being there again.
  const fresh =
    saved && [...world.open.keys()].every((path) => world.disk.has(path))
      ? await MemoryServer.start(new Map([...world.disk, ...world.open]))
      : await MemoryServer.start(world.disk, world.open);
  const [reported, expected] = [server.shown, fresh.shown];
  fresh.stop();
  const paths = new Set([...reported.keys(), ...expected.keys()]);
  const unequal = [...paths].flatMap((path): Difference[] => {
    const [one, other] = [reported.get(path) ?? [], expected.get(path) ?? []];
    return JSON.stringify(one) === JSON.stringify(other) ? [] : [{ path, reported: one, fresh: other }];
  });
  const unanswered = server.unanswered.map((path) => ({
    path,
    reported: ['no answer to the last version'],
    fresh: [],
  }));
  return [...unequal, ...unanswered];
}

/** Plays steps on a fresh server and compares at the end. */
export async function play(
  start: Readonly<Record<string, string>>,
  steps: readonly Step[],
  saved = false,
): Promise<readonly Difference[]> {
  const world = new World(start);
  const server = await MemoryServer.start(world.disk);
  for (const step of steps) await take(step, world, server);
  const found = await differences(world, server, saved);
  server.stop();
  return found;
}

const RULES = `rules House {
  require thrust_to_weight >= 1.6
  require hover_time >= 2 min
  raise short-flight to error
}
`;

const STAND = `use "../parts"

bench Roof {
  propeller: P3022x3
  voltage: 11.1 V
  rows speed in rpm, thrust in g, power in W from "roof.csv"
}
`;

const ROWS = '9000, 10, 1.4\n18000, 41, 9.1\n27000, 93, 29.5\n';

const BASE = `use "../parts"

// Everything but its motors.
build Base {
  airframe: Open152
  esc: Board32
  load: Camera from Board32.video
  pack: Slim900_3S
}
`;

const HEIR = `use "../builds"
use "../parts"

build Heir like Base {
  motors: 4 x M1506_3900 with P3022x3
  require hover_time >= 1 min
}

build Heir2 like Rafter {
  rules: House
  without: Slim900_5S
}
`;

const FLOWN = `use "../parts"

build Flown {
  airframe: Open152
  motors: 4 x M1506_3900 with P3022x3
  esc: Board32
  item: Strap
  pack: Slim900_3S
  observed "roof" {
    scale: 205 g
    hover_current: 6 A
  }
}
`;

const HALF = `motor Bare { kv: 9000 rpm/V }

propeller Bare { diameter: 76 mm }

motor Full like Bare { stator: 15 x 6 mm  rated: 3S }
`;

export const START: Readonly<Record<string, string>> = {
  'parts/motors.fettle': PARTS,
  'parts/boards.fettle': BOARDS,
  'parts/packs.fettle': PACKS,
  'parts/half.fettle': HALF,
  'builds/rafter.fettle': RAFTER,
  'builds/base.fettle': BASE,
  'builds/flown.fettle': FLOWN,
  'seen/seen.fettle': FLOWN.replaceAll('Flown', 'Seen').replaceAll('M1506_3900', 'M1506_2400'),
  'heirs/heir.fettle': HEIR,
  'rules/house.fettle': RULES,
  'stands/roof.fettle': STAND,
  'stands/roof.csv': ROWS,
};

/** Files that are created and deleted in addition to those of the start. */
const MORE = ['parts/more.fettle', 'builds/more.fettle', 'heirs/second.fettle', 'spare/parts.fettle', 'loose.fettle'];

const NAMES =
  'M1506_3900 M1506_2400 P3022x3 Open152 Board32 Board50 Camera Slim900_3S Slim900_5S Strap Base Heir Rafter House Bare Full Roof Flown Seen'.split(
    ' ',
  );
const FOLDERS = ['parts', 'builds', 'heirs', 'rules', 'stands', 'spare', 'seen'];

/** Whole lines as somebody may write them, right and wrong. */
const LINES = [
  '',
  '// a word',
  'use "../parts"',
  'use "../spare" as spare',
  'use "../stands"',
  'use "../rules"',
  'use "../parts/motors.fettle"',
  '  motors: 4 x M1506_3900 with P3022x3',
  '  motors: 4 x Full with P3022x3',
  '  esc: Board50',
  '  pack: Slim900_5S as Spare duty 60 %',
  '  load: Camera from Board32.video',
  '  without: Strap',
  '  rules: House',
  'use "../seen"',
  '  observed "eaves" { hover_current: 5.4 A }',
  '  motors: 4 x M1506_2400 with P3022x3',
  'build Flown like Rafter { observed "eaves" { scale: 209 g } }',
  '  rated: 3S',
  '  mass: 12 g',
  '  require rail.video.voltage >= 4.5 V',
  '  require hover_time >= ',
  'build Other like Base { motors: 4 x Bare with P3022x3 }',
  'build Third like Heir { item: Strap }',
  'motor M1506_3900 { kv: 9000 rpm/V }',
  'motor M1506_3901 like Bare { resistance: 90 mohm }',
  'item Strap { mass: 2 g }',
  'pack Small like Slim900_3S { capacity: 300 mAh }',
  'esc Board32 like Board50 { rail film { output: 5 V } }',
  'rules House { require all_up_weight <= 215 g }',
  '{',
  '}',
];

/** A burst of steps that fit the world as it is; the world is not changed. */
export function burst(random: () => number, world: World): Step[] {
  const disk = new Map(world.disk);
  const open = new Map(world.open);
  const below = (count: number): number => lessThan(random, count);
  const one = <T>(items: readonly T[]): T => pick(random, items);

  /** One change of a text. */
  const edited = (text: string): string => {
    const lines = text.split('\n');
    const at = below(lines.length);
    switch (below(11)) {
      case 0:
        return `\n${text}`;
      case 1:
        lines.splice(at, 1);
        break;
      case 2:
      case 3:
        lines.splice(at, 0, one(LINES));
        break;
      case 4:
        lines.splice(at, 0, lines[at] ?? '');
        break;
      case 5: {
        const [name, other] = [one(NAMES), one(NAMES)];
        return text.replace(name, other);
      }
      case 6:
        return text.replace(one(NAMES), (name) => name.slice(0, -1));
      case 7:
        return text.replaceAll(/\b\d+\b/g, (digits) => (below(8) === 0 ? String(below(30)) : digits));
      case 8:
        return text.slice(0, below(text.length + 1));
      case 9:
        return text.replace(/"\.\.\/(\w+)"/, () => `"../${one(FOLDERS)}"`);
      default:
        return text;
    }
    return lines.join('\n');
  };
  const anew = (path: string): string => {
    const known = [...Object.values(START).filter((text) => text !== ROWS), START[path] ?? ''];
    return below(4) === 0 ? '' : edited(edited(one(known)));
  };
  const writing = (texts: Record<string, string | null>, asFolder?: string): Step => {
    for (const [path, text] of Object.entries(texts)) {
      if (text === null) disk.delete(path);
      else disk.set(path, text);
    }
    return { does: 'write', texts, ...(asFolder !== undefined && { asFolder }) };
  };

  const step = (): Step => {
    const paths = [...disk.keys()];
    const fettle = paths.filter((path) => path.endsWith('.fettle'));
    const opened = [...open.keys()];
    const kind = below(100);
    if (kind < 12 && fettle.length > 0) {
      const path = one(fettle);
      if (!open.has(path)) open.set(path, disk.get(path) ?? '');
      return { does: 'open', path };
    }
    if (kind < 52 && opened.length > 0) {
      const path = one(opened);
      const text = below(6) === 0 ? (START[path] ?? anew(path)) : edited(open.get(path) ?? '');
      open.set(path, text);
      return { does: 'type', path, text };
    }
    if (kind < 58 && opened.length > 0) {
      const path = one(opened);
      disk.set(path, open.get(path) ?? '');
      return { does: 'save', path };
    }
    if (kind < 63 && opened.length > 0) {
      const path = one(opened);
      open.delete(path);
      return { does: 'close', path };
    }
    if (kind < 75 && paths.length > 0) {
      const path = one(paths);
      const text = path.endsWith('.csv') ? `${ROWS}${below(2) === 0 ? '36000, 166, 70\n' : '36000, x\n'}` : undefined;
      return writing({ [path]: text ?? edited(disk.get(path) ?? '') });
    }
    if (kind < 81 && paths.length > 0) return writing({ [one(paths)]: null });
    if (kind < 87) {
      const missing = [...Object.keys(START), ...MORE].filter((path) => !disk.has(path));
      if (missing.length === 0) return { does: 'wait', turns: 1 };
      const path = one(missing);
      return writing({ [path]: START[path] ?? anew(path) });
    }
    if (kind < 92 && paths.length > 0) {
      // A file under another name, or in another folder.
      const path = one(paths);
      const base = path.split('/').at(-1) ?? path;
      const to = below(2) === 0 ? `${one(FOLDERS)}/${base}` : path.replace(/(\w+)\.(\w+)$/, 'other.$2');
      return to === path ? { does: 'wait', turns: 1 } : writing({ [path]: null, [to]: disk.get(path) ?? '' });
    }
    if (kind < 95) {
      // A folder goes, or comes back, with all that is in it: watchers report of the folder alone.
      const folder = one(FOLDERS);
      const inside = paths.filter((path) => path.startsWith(`${folder}/`));
      if (inside.length > 0) return writing(Object.fromEntries(inside.map((path) => [path, null])), folder);
      const back = Object.entries(START).filter(([path]) => path.startsWith(`${folder}/`));
      return back.length === 0 ? { does: 'wait', turns: 1 } : writing(Object.fromEntries(back), folder);
    }
    return { does: 'wait', turns: 1 + below(12) };
  };
  // Mostly a few; at times a flood.
  return Array.from({ length: 1 + below(below(4) === 0 ? 60 : 6) }, step);
}
