/** Only what a change can reach is read and assessed, however large the repository is. */
import { describe, expect, it } from 'vitest';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

const motor = (i: number) =>
  `motor M${i} { stator: 15 x 6 mm  kv: 3900 rpm/V  resistance: 74 mohm  mass: 3.${i % 10} g }\n`;

const build = (i: number) => `fettle 1
use "../parts"
build B${i} {
  airframe: Open152
  motors: 4 x M${i % 20} with P3022
  esc: Board32
  pack: Slim900
}
`;

describe('in a repository of 400 builds', () => {
  it('one motor of a file of twenty reaches its twenty builds', async () => {
    const change = new Change({
      ...CRAFT,
      'parts/drawer.fettle': `fettle 1\n${Array.from({ length: 20 }, (_, i) => motor(i)).join('')}`,
      ...Object.fromEntries(Array.from({ length: 400 }, (_, i) => [`builds/b${i}.fettle`, build(i)])),
    });
    change.edit('parts/drawer.fettle', 'mass: 3.7 g', 'mass: 3.9 g');
    const { work, builds, buildsInAll } = await change.json();
    expect(buildsInAll).toBe(403);
    expect(builds.map(({ name }: { name: string }) => name)).toEqual(
      Array.from({ length: 20 }, (_, i) => `B${i * 20 + 7}`).sort(),
    );
    expect(work).toMatchInlineSnapshot(`
      {
        "assessments": 40,
        "buildsAssessed": 20,
        "buildsCompared": 20,
        "changedFiles": 1,
        "filesRead": 48,
        "shareAssessments": 0,
      }
    `);
  });
});
