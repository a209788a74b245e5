/** Commands that name a build judge that one alone; of every other file they read the text. */
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { checkPaths } from '../../packages/language/src/cli/check-command.ts';
import { buildNamed, checkedAt } from '../../packages/language/src/cli/named-builds.ts';
import { findingsAbout } from '../../packages/language/src/report/checked.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const builds = join(shop.folder, 'examples/builds');

test('one build of a folder is judged, as it is among all of them', async () => {
  // A slip in a line of another build.
  shop.write('examples/builds/other.fettle', 'use "../parts"\nbuild Other {\n  item: 3 kgg\n}\n');
  const all = await checkPaths([builds]);
  const one = await checkedAt([builds], ['Spire']);
  expect(all.builds.length).toBeGreaterThan(5);
  expect(one.builds.map(({ build }) => build.name)).toEqual(['Spire']);
  expect([...(one.otherBuilds ?? []), 'Spire'].sort()).toEqual(all.builds.map(({ build }) => build.name).sort());
  const [alone, among] = [buildNamed('Spire', one), buildNamed('Spire', all)];
  const results = ({ assessments }: typeof alone) =>
    assessments.map((assessment) => [...assessment.results.values()].map(({ name, estimate }) => [name, estimate]));
  expect(results(alone)).toEqual(results(among));
  expect(findingsAbout(alone.build, one)).toEqual(findingsAbout(among.build, all));
  const ofTexts = ({ findings }: typeof all) => findings.filter(({ build }) => build === undefined);
  expect(ofTexts(one)).toEqual(ofTexts(all));
  expect(ofTexts(one).map(({ id }) => id)).toContain('unknown-unit');
});

test('a name that is not there is compared with all that are', async () => {
  const checked = await checkedAt([builds], ['Spier']);
  expect(checked.builds).toEqual([]);
  expect(() => buildNamed('Spier', checked)).toThrow(/^there is no build Spier; did you mean Spire\?$/);
});
