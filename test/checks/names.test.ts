/** What a finding is about is data: its message names the parts, lines, rails and packs that the finding lists, and no others. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import type { CheckedDocument } from '../../packages/language/src/checks/run.ts';
import type { Build } from '../../packages/language/src/model/build.ts';
import { checkedExample, checkedIn, EXAMPLE } from './findings-in.ts';

const folder = join(import.meta.dirname, '../../examples');
const files = Object.fromEntries(
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => /\.(fettle|csv)$/.test(path))
    .map((path) => [path, readFileSync(join(folder, path), 'utf8')]),
);

/** By which a message may name what is on board. */
function namesOnBoard(build: Build): Set<string> {
  const { airframe, rotors, escs, regulators, rails, loads, items, leads, mounts, spares, packs } = build;
  const lines = [airframe ?? [], escs, regulators, loads, items, leads, mounts, spares].flat();
  const named = [
    ...[...lines, ...rails, ...packs].flatMap((line) => [line, line.part]),
    ...rotors.flatMap(({ motor, propeller }) => [motor, propeller]),
    ...packs.flatMap(({ beside }) => beside?.map(({ part }) => part) ?? []),
  ];
  return new Set(named.map(({ name }) => name));
}

/** In the order of a message. */
const namedIn = (message: string, names: ReadonlySet<string>): string[] =>
  [...new Set(message.match(/[A-Za-z_](?:[\w.]*\w)?/g))].filter((word) => names.has(word));

interface Held {
  readonly id: string;
  readonly message: string;
  readonly names: readonly string[];
}

const stated = ({ findings }: CheckedDocument): Held[] =>
  findings
    .filter(({ build }) => build !== undefined)
    .map(({ id, message, names }) => ({ id, message, names: [...new Set(names.map(({ name }) => name))] }));

function read({ builds, findings }: CheckedDocument): Held[] {
  const onBoard = new Map(builds.map(({ build }) => [build.name, namesOnBoard(build)]));
  const of = ({ id, message, build }: Finding): Held[] =>
    build === undefined ? [] : [{ id, message, names: namedIn(message, onBoard.get(build) ?? new Set()) }];
  return findings.flatMap(of);
}

describe('a finding lists what its message names, in its order', () => {
  it.each(Object.entries(PAGES))('%s', async (_, { fails, passes }) => {
    for (const text of [fails, passes ?? '']) {
      const checked = (await checkedExample(text))[EXAMPLE];
      if (!checked) throw new Error('the example was not checked');
      expect(stated(checked)).toEqual(read(checked));
    }
  });

  describe('of the example craft', () => {
    let checked: Record<string, CheckedDocument> = {};
    beforeAll(async () => {
      checked = await checkedIn(files);
    });

    it.each(Object.keys(files).filter((path) => path.endsWith('.fettle')))('%s', (path) => {
      const document = checked[path];
      if (!document) throw new Error(`${path} was not checked`);
      expect(stated(document)).toEqual(read(document));
    });
  });

  it('so that a pack whose name is a word of the message is named next to it', async () => {
    const text = `load Lamp like LinkCam { draw: 30 W }
build Overdrawn like Healthy {
  load: Lamp from Board28.camera
  pack: Mast900_4S
  pack: Mast900_4S as hover
}`;
    const found = (await checkedExample(text))[EXAMPLE]?.findings ?? [];
    const related = found.filter(({ id }) => id === 'rail-overcurrent').flatMap((finding) => finding.related);
    expect(related.map(({ message }) => message)).toContainEqual(
      expect.stringMatching(/^also on hover: camera delivers .* in hover/),
    );
  });
});
