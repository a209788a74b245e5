/** The block in which a builder writes what was measured: with the readings that are expected, to be replaced one by one. */
import type { Assessment } from '../../analysis/assessment.ts';
import type { ExpectedLine } from '../../analysis/learn/measurement-kinds.ts';
import { readingsExpected } from '../../analysis/learn/next-measurement.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { lineBreakOf } from '../../grammar/value-texts.ts';
import { declarationsOf } from '../../model/statements.ts';
import { printedValue } from '../../units/print.ts';
import { escapeSnippet } from '../completion/offer.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { rangeOf } from '../place-ranges.ts';
import { buildIn, documentAt, refuse } from './checked-documents.ts';
import type { MeasuredBlock, MeasuredParams } from './protocol.ts';

export function measuredBlockOf(services: EngineServices, { uri, build: name }: MeasuredParams): MeasuredBlock {
  const document = documentAt(services, uri);
  const declared = declarationsOf(document).find((one) => one.kind === 'build' && one.name === name);
  if (!declared?.hasBlock) return refuse(`${name} has no block to write into`);
  const text = document.textDocument.getText();
  const lineBreak = lineBreakOf(text);
  const at = declared.insertAt;
  const gap = /\n[ \t]*$/.test(text.slice(0, at)) ? '' : lineBreak;
  const snippet = snippetFor(buildIn(document, name)).split('\n').join(lineBreak);
  return { range: rangeOf(document, at, at), snippet: `${gap}${snippet}${lineBreak}` };
}

function snippetFor({ build, assessments }: CheckedBuild): string {
  let stop = 0;
  const next = (content: string) => `\${${++stop}:${escapeSnippet(content)}}`;
  const title = next('place, day');
  const packs = build.packs.map((option) => option.name);
  const pack = packs.length > 1 ? `\${${++stop}|${packs.join(',')}|}` : (packs[0] ?? next('pack'));
  const lines = assessments[0] ? linesOn(assessments[0]) : [];
  const written = [
    `on: ${next(new Date().toISOString().slice(0, 10))}`,
    ...(lines.length > 0 ? lines : USUAL).map(([property, number, unit]) => `${property}: ${next(number)} ${unit}`),
  ];
  return [`  observed "${title}" with ${pack} {`, ...written.map((line) => `    ${line}`), '  }$0'].join('\n');
}

type Written = readonly [property: string, number: string, unit: string];

/** Where nothing can be computed yet. */
const USUAL: readonly Written[] = [
  ['scale', '300', 'g'],
  ['airborne', '5', 'min'],
  ['put_back', '500', 'mAh'],
];

/** A number and its unit: `4 min 28 s` is written in seconds. */
function linesOn(assessment: Assessment): Written[] {
  return readingsExpected(assessment).map(({ property, value, unit }: ExpectedLine): Written => {
    if (unit === 'min') return [property, String(Math.round(value)), 's'];
    const printed = printedValue(value, unit);
    return [property, printed.number, printed.unit];
  });
}
