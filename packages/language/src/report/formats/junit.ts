/**
 * A run as JUnit XML, the form of test results that build servers read: one suite per file, a case for its text, for each build and for
 * each pack option. Names of cases do not depend on what was found, so that a server can follow them from run to run.
 */
import { type Finding, packsOf } from '../../checks/finding.ts';
import { atLeast, type Severity, worstFirst } from '../../vocabulary/severities.ts';
import { escaped } from '../present/markup.ts';
import { severityWord } from '../present/report-words.ts';
import { pathAndColumn } from '../present/sources.ts';
import type { Recorded } from './record.ts';

interface Case {
  readonly name: string;
  readonly findings: readonly Finding[];
}

interface Suite {
  readonly file: string;
  readonly cases: readonly Case[];
}

/** @param failOn findings at least this severe fail their case */
export function toJunit(checked: Recorded, failOn: Severity): string {
  const fails = (finding: Finding): boolean => finding.accepted === undefined && atLeast(finding.severity, failOn);
  const suites = suitesOf(checked);
  const cases = suites.flatMap((suite) => suite.cases);
  const failed = cases.filter(({ findings }) => findings.some(fails)).length;
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<testsuites name="fettle check" tests="${cases.length + checked.failures.length}" failures="${failed}" errors="${checked.failures.length}">`,
    ...suites.flatMap((suite) => suiteLines(checked, suite, fails)),
    ...checked.failures.flatMap(({ path, message }) => [
      `  <testsuite name="${escaped(path)}" tests="1" failures="0" errors="1">`,
      `    <testcase classname="${escaped(path)}" name="text">`,
      `      <error type="not-read" message="${escaped(message)}"/>`,
      '    </testcase>',
      '  </testsuite>',
    ]),
    '</testsuites>',
  ];
  return `${lines.join('\n')}\n`;
}

function suitesOf({ builds, findings, pathOf }: Recorded): Suite[] {
  const uris = [...new Set([...builds.map((build) => build.uri), ...findings.map(({ place }) => place.uri)])];
  return uris
    .map((uri): Suite => {
      const inFile = findings.filter(({ place }) => place.uri === uri);
      const ofBuilds = builds
        .filter((build) => build.uri === uri)
        .flatMap(({ name, options }): Case[] => {
          const ofBuild = inFile.filter((finding) => finding.build === name);
          return [
            { name, findings: ofBuild.filter((finding) => packsOf(finding).length === 0) },
            ...options.map(({ pack }) => ({
              name: `${name} on ${pack}`,
              findings: ofBuild.filter((finding) => packsOf(finding).includes(pack)),
            })),
          ];
        });
      const isOfBuild = new Set(ofBuilds.flatMap((one) => one.findings));
      const text: Case = { name: 'text', findings: inFile.filter((finding) => !isOfBuild.has(finding)) };
      return { file: pathOf(uri), cases: [text, ...ofBuilds] };
    })
    .sort((a, b) => (a.file < b.file ? -1 : 1));
}

function suiteLines(checked: Recorded, { file, cases }: Suite, fails: (finding: Finding) => boolean): string[] {
  const failed = cases.filter(({ findings }) => findings.some(fails)).length;
  return [
    `  <testsuite name="${escaped(file)}" tests="${cases.length}" failures="${failed}" errors="0">`,
    ...cases.flatMap((one) => caseLines(checked, file, one, fails)),
    '  </testsuite>',
  ];
}

function caseLines(
  checked: Recorded,
  file: string,
  { name, findings }: Case,
  fails: (finding: Finding) => boolean,
): string[] {
  const open = `    <testcase classname="${escaped(file)}" name="${escaped(name)}"`;
  if (findings.length === 0) return [`${open}/>`];
  const failing = findings.filter(fails).toSorted(worstFirst);
  const others = findings.filter((finding) => !fails(finding));
  const [worst] = failing;
  const printed = (of: readonly Finding[]) => of.map((finding) => escaped(sentence(checked, finding))).join('\n');
  return [
    `${open}>`,
    ...(worst
      ? [`      <failure type="${escaped(worst.id)}" message="${escaped(worst.message)}">${printed(failing)}</failure>`]
      : []),
    ...(others.length > 0 ? [`      <system-out>${printed(others)}</system-out>`] : []),
    '    </testcase>',
  ];
}

function sentence(checked: Recorded, { id, severity, message, place, accepted }: Finding): string {
  const reason = accepted === undefined ? '' : ` (accepted: ${accepted})`;
  return `${pathAndColumn(checked, place)} ${severityWord(severity)} ${id}${reason}: ${message}`;
}
