/**
 * Writes the log of the examples anew: a flight of a craft like Spire that exists only here. `node test/simulated/example-log.ts`
 * Of the craft that Spire's page allows, the one that flies about as its other observation states.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeLearning } from '../../packages/language/src/analysis/learn/learn.ts';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { loadPaths } from '../../packages/language/src/workspace/load-paths.ts';
import { NodeFileSystem } from '../../packages/language/src/workspace/node-files.ts';
import { createFettleServices } from '../../packages/language/src/workspace/services.ts';
import { trueCraft } from './craft.ts';
import { csvOf, flown, plan } from './flown.ts';
import { hovering } from './physics.ts';

const EXAMPLES = join(import.meta.dirname, '../../examples');
const PACK = 'Mast1050_4S';
/** A in hover and kg, by charger and scale. */
const KNOWN = { amperes: 5.74, mass: 0.298 };

const { documents } = await loadPaths(createFettleServices(NodeFileSystem), [join(EXAMPLES, 'builds/spire.fettle')]);
const build = documents.flatMap((document) => checkDocument(readDocument(document)).builds)[0]?.build;
const option = build?.packs.find(({ name }) => name === PACK);
if (!build || !option) throw new Error('Spire is expected');
const page = beforeLearning(build);
const crafts = Array.from({ length: 60 }, (_, seed) => ({ ...trueCraft(page, option, seed), mass: KNOWN.mass }));
const off = (craft: (typeof crafts)[number]) => Math.abs((hovering(craft, 0.7)?.amperes ?? 99) - KNOWN.amperes);
const [craft] = crafts.toSorted((a, b) => off(a) - off(b));
const flight = craft && flown(craft, plan(240), { amperes: 1.03, volts: 0.998, zero: 0.03, step: 0.5 }, 1);
if (!flight) throw new Error('it does not fly');
writeFileSync(join(EXAMPLES, 'logs/2026-05-21.csv'), csvOf(flight));
console.log(hovering(craft, 0.7), craft.pack, flight.used / 3.6);
