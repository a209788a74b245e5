/** The sheet of a build for an editor's view: the sections of `fettle sheet`, with the lines they lead to. */

import type { LangiumDocuments } from 'langium';
import { type CheckedBuild, checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import { failuresOf } from '../../report/checked.ts';
import { sheetData } from '../../report/sheet/sheet-data.ts';
import { SHEET_SECTIONS } from '../../report/sheet/sheet-sections.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { rangeOf } from '../place-ranges.ts';
import type { SheetAnswer, SheetParams, SheetSection } from './protocol.ts';
import { Links } from './view-links.ts';

export function sheetOf(
  document: FileDocument,
  { build: name, quick }: SheetParams,
  documents: LangiumDocuments,
): SheetAnswer {
  const { builds, findings, elsewhere, defects } = checkDocument(readDocument(document));
  const names = builds.map(({ build }) => build.name);
  const checked = builds.find(({ build }) => build.name === name);
  if (checked === undefined) return { builds: names };
  const { build } = checked;
  return {
    builds: names,
    sheet: {
      build: name,
      ...(build.title !== undefined && { title: terminalSafe(build.title) }),
      range: rangeOf(document, build.place.start, build.place.end),
      isComplete: isComplete(checked),
      sections: sectionsOf(
        checked,
        { findings: [...findings, ...elsewhere], failures: failuresOf(defects, asIs), pathOf: asIs },
        quick === true,
        documents,
      ),
    },
  };
}

const asIs = (uri: string): string => uri;

/** A line that is being typed may leave all figures as they are, or take a pack or every sum away. */
function isComplete({ build, assessments }: CheckedBuild): boolean {
  if (build.holes.size === 0) return true;
  const isSolved = assessments.every(({ results }) => results.has('all_up_weight') && results.has('hover_time'));
  return assessments.length > 0 && isSolved && !build.holes.has('pack');
}

function sectionsOf(
  checked: CheckedBuild,
  about: Parameters<typeof sheetData>[1],
  isQuick: boolean,
  documents: LangiumDocuments,
): SheetSection[] {
  const data = sheetData(checked, about, isQuick ? 'later' : 'now');
  return SHEET_SECTIONS.flatMap(({ id, of }) => {
    const links = new Links(documents);
    const html = of(data, links);
    return html === undefined ? [] : [{ id, html: html.text, targets: links.targets }];
  });
}
