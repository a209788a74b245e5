import type { Assessment, Estimate } from '../../analysis/assessment.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { type CheckedBuild, checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import { type FileDocument, fileOf } from '../../syntax/nodes.ts';
import { joinedPair, printedWithin } from '../../units/print.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { sortedBySetting } from '../diagnostics/shown-findings.ts';
import type { FindingsValidator } from '../diagnostics/validator.ts';
import type { EditorServices, EngineServices } from '../engine/editor-services.ts';
import type { FolderSettings } from '../engine/folder-settings.ts';
import { findingsWithin } from '../lenses.ts';
import { rangeOf } from '../place-ranges.ts';
import { ChecksOf, NOT_COMPUTED } from './checks-request.ts';
import type { BuildStatus, StatusAnswer } from './protocol.ts';

export function statusOf(document: FileDocument, services: EngineServices): StatusAnswer {
  const { validation } = services.ServiceRegistry.all[0] as EditorServices;
  const { builds } = checkDocument(readDocument(document));
  const settings = services.workspace.ConfigurationProvider.settingsOf(document.uri.toString());
  return {
    isBeingWritten: services.lsp.Writing.isBeingWritten(document),
    builds: builds.map((checked) => statusOfBuild(document, checked, validation.DocumentValidator, settings)),
  };
}

function statusOfBuild(
  document: FileDocument,
  { build, assessments }: CheckedBuild,
  validator: FindingsValidator,
  settings: FolderSettings,
): BuildStatus {
  const { start, end } = build.place;
  const about = { build: build.name, range: rangeOf(document, start, end) };
  const part = fileOf(document).parts.find(({ kind, name }) => kind === 'build' && name === build.name);
  const { shown, off } = sortedBySetting(
    part === undefined ? [] : findingsWithin(part, validator.findingsIn(document)),
    settings,
  );
  const open = shown.filter(({ accepted }) => accepted === undefined);
  const count = (severity: 'error' | 'warning') => open.filter((finding) => finding.severity === severity).length;
  const [errors, warnings] = [count('error'), count('warning')];
  const checks = new ChecksOf(document);
  const packs = build.packs.map(({ name }) => {
    const assessment = assessments.find(({ option }) => option.name === name);
    return { name, assessment, verdict: assessment ? checks.on(build, assessment) : NOT_COMPUTED };
  });
  const details = packs.map(({ name, assessment, verdict }) => `${name}: ${verdict.message}${inFull(assessment)}`);
  if (errors + warnings > 0) {
    const counts = [
      ...(errors > 0 ? [plural(errors, 'error')] : []),
      ...(warnings > 0 ? [plural(warnings, 'warning')] : []),
    ];
    const text = errors > 0 ? counts.join(', ') : [...counts, ...minutesOn(assessments)].join(' · ');
    return { ...about, worry: errors > 0 ? 'error' : 'warning', text, details };
  }
  const unjudged = packs.find(({ verdict }) => verdict.verdict !== 'holds');
  const silenced = [...new Set(off.flatMap(({ id, severity }) => (severity === 'error' ? id : [])))];
  if (silenced.length > 0)
    return { ...about, worry: 'unjudged', text: `no verdict: ${silenced.join(', ')} off in the settings`, details };
  if (packs.length === 0 || unjudged !== undefined)
    return { ...about, worry: 'unjudged', text: 'not judged', details: packs.length === 0 ? ['no pack yet'] : details };
  const on = packs.length === 1 ? packs[0]?.name : plural(packs.length, 'pack');
  return { ...about, worry: 'none', text: [`fit to fly on ${on}`, ...minutesOn(assessments)].join(' · '), details };
}

/** Minutes in hover from the pack with the fewest to that with the most, no finer than each is known. */
function minutesOn(assessments: readonly Assessment[]): string[] {
  const times = assessments
    .flatMap(({ results }) => results.get('hover_time')?.estimate ?? [])
    .sort((one, other) => one.value - other.value);
  const [least, most] = [times[0], times.at(-1)];
  if (least === undefined || most === undefined) return [];
  const minutes = (one: Estimate) => printedWithin(one.value, expanded(one), 'min');
  return [joinedPair(minutes(least), 'to', minutes(most))];
}

function inFull(assessment: Assessment | undefined): string {
  const time = assessment?.results.get('hover_time');
  return time === undefined ? '' : `, ${formatEstimate(time.estimate, 'min')} in hover`;
}
