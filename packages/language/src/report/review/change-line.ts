/** What a change does to a build, in one line: above the build in an editor. */
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { formatPair } from '../../units/print.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { GRAVE } from '../../vocabulary/severities.ts';
import { severityWord } from '../present/report-words.ts';
import type { ResultChange } from './differences.ts';
import type { FindingChange } from './finding-changes.ts';
import type { BuildReview, OptionReview } from './review-data.ts';
import { relaxedWords } from './review-verdict.ts';
import { isHeadlineOf, isPrincipal, STATUS_WORDS } from './review-words.ts';

const MOST_RESULTS = 3;

/** Undefined where nothing differs that the ± cannot explain, and of a build that is gone. */
export function lineOf({ status, renamedFrom, options, findings, relaxations }: BuildReview): string | undefined {
  if (status === 'removed') return undefined;
  const reported = options.filter(
    (option) => option.results.some(({ beyond }) => beyond) && option.status !== 'removed',
  );
  const parts = [
    ...(status === 'added' ? ['new'] : []),
    ...(renamedFrom === undefined ? [] : [`renamed from ${renamedFrom}`]),
    ...(reported[0] && status === 'changed' ? [optionText(reported[0], reported.length, options.length)] : []),
    ...(['new', 'worse', 'accepted', 'resolved'] as const).flatMap((wanted) => findingsText(findings, wanted)),
    ...relaxedWords(relaxations).worrying,
  ];
  return parts.length > 0 ? parts.join('; ') : undefined;
}

function optionText(option: OptionReview, reported: number, all: number): string {
  const { pack, status, results } = option;
  const beyond = results.filter((result) => result.beyond);
  const headlines = beyond.filter(isHeadlineOf(option));
  const shown = (headlines.length > 0 ? headlines : beyond).slice(0, MOST_RESULTS);
  const more = reported > 1 ? ` and ${plural(reported - 1, 'more pack')}` : '';
  const on = all > 1 ? ` on ${pack}${more}` : '';
  return `${shown.map(resultText).join(', ')}${on}${status === 'added' ? ' (new)' : ''}`;
}

function resultText({ label, unit, before, after }: ResultChange): string {
  if (before && after) return `${label} ${formatPair(before.value, after.value, unit)}`;
  return after ? `${label} ${formatMeasurable(after, unit)}` : `${label} no longer known`;
}

function findingsText(findings: readonly FindingChange[], wanted: 'new' | 'worse' | 'accepted' | 'resolved'): string[] {
  const meant = findings.filter((change) => change.status === wanted && isPrincipal(change));
  return GRAVE.flatMap((severity) => {
    const count = meant.filter(({ finding }) => finding.severity === severity).length;
    return count > 0 ? [plural(count, `${STATUS_WORDS[wanted]} ${severityWord(severity)}`)] : [];
  });
}
