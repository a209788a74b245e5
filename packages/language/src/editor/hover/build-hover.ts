/** A build, its pack options side by side. Markdown. */

import type { Assessment } from '../../analysis/assessment.ts';
import { calibrationOf } from '../../analysis/learn/calibration.ts';
import { widestFirst } from '../../checks/craft/estimates.ts';
import { type Finding, packsOf } from '../../checks/finding.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { packWords } from '../../model/arrangements.ts';
import { calibratedWords } from '../../report/present/taught-words.ts';
import { formatValue } from '../../units/print.ts';
import { HEADLINES, worthShowing } from '../../vocabulary/headlines.ts';
import { upperFirst } from '../../vocabulary/phrasing.ts';
import { type ResultName, resultOf } from '../../vocabulary/results.ts';
import { atLeast, worstFirst } from '../../vocabulary/severities.ts';
import { fettleCode, paragraphs, plain, table } from './hover-markdown.ts';
import { measureFirst, printedResult, type Units } from './results-hover.ts';

export function buildText({ build, assessments }: CheckedBuild, findings: readonly Finding[], settings: Units): string {
  const title = build.title === undefined ? '' : ` – ${plain(build.title)}`;
  const [widest] = widestFirst(assessments);
  return paragraphs(
    `**build ${plain(build.name)}**${title}`,
    assessments.length === 0
      ? 'No pack yet: each `pack:` line is one choice.'
      : optionsTable(assessments, findings, settings),
    ...reasons(assessments),
    calibratedText(assessments[0]),
    widest && measureFirst(widest),
  );
}

export function optionText(assessment: Assessment, findings: readonly Finding[], settings: Units): string {
  return paragraphs(
    `**${plain(assessment.build.name)} on ${plain(assessment.option.name)}**`,
    optionsTable([assessment], findings, settings),
    ...reasons([assessment]),
    calibratedText(assessment),
    measureFirst(assessment),
  );
}

function calibratedText(assessment: Assessment | undefined): string | undefined {
  const calibration = assessment && calibrationOf(assessment);
  if (!calibration) return undefined;
  return `${plain(upperFirst(calibratedWords(calibration)))}.`;
}

function optionsTable(assessments: readonly Assessment[], findings: readonly Finding[], settings: Units): string {
  const head = ['', ...assessments.map(({ option }) => optionHead(option))];
  const rows = (names: readonly ResultName[]) =>
    names.map((name) => [labelOf(name), ...assessments.map((assessment) => printedResult(assessment, name, settings))]);
  const limits = ['limited by', ...assessments.map(({ option }) => limitOf(option.name, findings))];
  const options = assessments.map(({ option }) => ({ dutyLimit: option.dutyLimit.value }));
  return table(head, [...rows(HEADLINES.hover), limits, ...rows(worthShowing(HEADLINES.hoverBelow, options))]);
}

function optionHead(option: Assessment['option']): string {
  const duty = option.dutyLimit.value < 1 ? ` duty ${plain(formatValue(option.dutyLimit.value, '%'))}` : '';
  return fettleCode(packWords(option)) + duty;
}

/** Land-by voltages are those of one cell. */
function labelOf(name: ResultName): string {
  const label = plain(resultOf(name).label);
  return name === 'land_by_hover_voltage' ? `${label}, per cell` : label;
}

/** The gravest findings of an option, by name. */
function limitOf(pack: string, findings: readonly Finding[]): string {
  const grave = findings
    .filter(
      (finding) =>
        packsOf(finding).includes(pack) && finding.accepted === undefined && atLeast(finding.severity, 'warning'),
    )
    .sort(worstFirst);
  const ids = [...new Set(grave.map((finding) => finding.id))].slice(0, 2);
  return ids.length === 0 ? '–' : ids.map(plain).join(', ');
}

/** Why a headline has no value, each reason once. */
function reasons(assessments: readonly Assessment[]): string[] {
  const found = new Map<string, string[]>();
  for (const assessment of assessments) {
    for (const name of [...HEADLINES.hover, ...HEADLINES.hoverBelow]) {
      const missing = assessment.missing.get(name);
      if (missing !== undefined) found.set(missing.reason, [...(found.get(missing.reason) ?? []), missing.label]);
    }
  }
  return [...found].map(([reason, labels]) => `No ${plain([...new Set(labels)].join(', '))}: ${plain(reason)}`);
}
