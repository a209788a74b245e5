/** What the extension lets a folder set is what the server reads. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { SHOWN_AS } from '../../packages/language/src/editor/engine/folder-settings.ts';
import { parseUnit } from '../../packages/language/src/units/parse.ts';
import { FINDING_IDS } from '../../packages/language/src/vocabulary/findings.ts';

const manifest = JSON.parse(readFileSync(join(import.meta.dirname, '../../packages/extension/package.json'), 'utf8'));
const { properties } = manifest.contributes.configuration;

test('severities are completed with the name of every finding, and with every way to show it', () => {
  const { propertyNames, additionalProperties } = properties['fettle.severities'];
  expect(propertyNames.enum.toSorted()).toEqual([...FINDING_IDS].toSorted());
  expect(additionalProperties.enum).toEqual([...SHOWN_AS]);
});

test('units are completed with ones that the language has', () => {
  for (const unit of properties['fettle.units'].items.enum) expect(parseUnit(unit).unit?.name, unit).toBe(unit);
});

test('whatever is about a file is set for a folder', () => {
  const scopes = Object.entries<{ scope: string }>(properties).map(([name, { scope }]) => [name, scope]);
  expect(scopes.filter(([, scope]) => scope === 'resource').map(([name]) => name)).toEqual([
    'fettle.hints.packs',
    'fettle.hints.requirements',
    'fettle.severities',
    'fettle.units',
  ]);
});
