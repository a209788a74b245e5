/** A craft with parts to choose from, and what is chosen from a shortlist of it. */
import { EmptyFileSystem, URI } from 'langium';
import type { File } from '../../packages/language/src/grammar/generated/ast.ts';
import { type Chosen, choose, type Row } from '../../packages/language/src/report/decide/choice.ts';
import { placeOfPath } from '../../packages/language/src/resolve/keys.ts';
import { spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { partOfKindNamed } from '../../packages/language/src/trial/trial.ts';
import { createFettleServices } from '../../packages/language/src/workspace/services.ts';

export const PARTS = `
motor M { stator: 16 x 6 mm  kv: 3150 rpm/V claimed  resistance: 82 mohm  no_load_current: 0.74 A at 10 V  continuous: 10 A  mass: 14.7 g }
motor Slow like M { kv: 2650 rpm/V claimed  resistance: 116 mohm  no_load_current: 0.6 A at 10 V }
propeller P3 { diameter: 76 mm  pitch: 2.4 in  blades: 3  mass: 1.6 g }
propeller P4 { diameter: 102 mm  pitch: 2.2 in  blades: 2  mass: 1.9 g }
propeller P2 like P3 { blades: 2  mass: 1.2 g }
esc E { continuous: 35 A  cells: 3S .. 4S  mass: 12 g }
airframe F { rotors: 4  wheelbase: 148 mm  guard_diameter: 90 mm  bay: 82 x 40 x 30 mm  mass: 61 g }
pack Small { cells: 4S  capacity: 720 mAh  discharge: 80C  size: 62 x 31 x 26 mm  mass: 84 g }
pack Middle like Small { capacity: 1050 mAh  size: 73 x 35 x 27 mm  mass: 121 g }
pack Large like Small { capacity: 1350 mAh  size: 76 x 36 x 32 mm  mass: 152 g }
pack Five like Small { cells: 5S  capacity: 900 mAh  mass: 130 g }
build Craft {
  airframe: F
  motors: 4 x M with P3
  esc: E
  item: 20 g "wire"
  pack: Small
  require hover_time >= 4 min
  observed "one flight" with Small {
    scale: 252 g
    airborne: 5 min
    put_back: 500 mAh
  }
}
`;

/** @param others files around it, by their paths from its own */
export async function read(text: string, others: Readonly<Record<string, string>> = {}) {
  const services = createFettleServices(EmptyFileSystem);
  const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;
  const own = URI.parse('memory:///craft/craft.fettle');
  const document = LangiumDocumentFactory.fromString<File>(text, own);
  const around = Object.entries(others).map(([path, other]) =>
    LangiumDocumentFactory.fromString<File>(other, placeOfPath(own, path)),
  );
  for (const one of [document, ...around]) LangiumDocuments.addDocument(one);
  await DocumentBuilder.build([document, ...around], { validation: false });
  return { services, document };
}

export async function chosenFrom(shortlist: string, most?: number, others = '', parts = PARTS): Promise<Chosen> {
  const { services, document } = await read(`${parts}${others}\nshortlist Which {\n  for: Craft\n${shortlist}\n}\n`);
  const node = partOfKindNamed(document, 'shortlist', 'Which');
  if (!node) throw new Error('no shortlist');
  return choose(await spaceOf(services, document, node, most));
}

export const labelsOf = (rows: readonly { label: string }[]) => rows.map(({ label }) => label).sort();

export const preferred = (row: Row, name: string) => row.values.find((one) => one.name === name);
