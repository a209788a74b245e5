/** Findings as a code quality report, the JSON that GitLab shows in a merge request. */
import { type Finding, packsOf } from '../../checks/finding.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import { jsonText } from '../present/json-text.ts';
import type { Recorded } from './record.ts';

const SEVERITIES: Readonly<Record<Severity, string>> = {
  error: 'critical',
  warning: 'major',
  information: 'minor',
  hint: 'info',
};

/** Accepted findings are left out: the format has no word for them. */
export function toCodeQuality(checked: Recorded): string {
  const open = checked.findings.filter(({ accepted }) => accepted === undefined);
  const seen = new Map<string, number>();
  const issues = [
    ...checked.failures.map(({ path, message }) => ({
      description: terminalSafe(`not judged: ${message}`),
      check_name: 'not-read',
      severity: 'blocker',
      fingerprint: fingerprint(['not-read', path], seen),
      location: { path, lines: { begin: 1 } },
    })),
    ...open.map((finding) => issueOf(checked, finding, seen)),
  ];
  return jsonText(issues);
}

function issueOf(checked: Recorded, finding: Finding, seen: Map<string, number>) {
  const { id, severity, message, place, build, pack } = finding;
  const path = checked.pathOf(place.uri).replaceAll('\\', '/');
  const about =
    build === undefined ? '' : `${build}${pack === undefined ? '' : ` on ${packsOf(finding).join(', ')}`}: `;
  const excerpt = checked.sources.excerpt(place);
  return {
    description: terminalSafe(about + message),
    check_name: id,
    severity: SEVERITIES[severity],
    fingerprint: fingerprint([id, path, build ?? '', pack ?? '', excerpt?.text.trim() ?? ''], seen),
    location: { path, lines: { begin: excerpt?.start.line ?? 1, end: excerpt?.end.line ?? 1 } },
  };
}

/** The same finding keeps it when lines move and numbers change; of two that are alike the second has its own. */
function fingerprint(parts: readonly string[], seen: Map<string, number>): string {
  const key = parts.join('\0');
  const count = seen.get(key) ?? 0;
  seen.set(key, count + 1);
  return hash(count === 0 ? key : `${key}\0${count}`);
}

/** FNV-1a of 64 bits, as 16 digits. */
function hash(text: string): string {
  let value = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(text)) {
    value = BigInt.asUintN(64, (value ^ BigInt(byte)) * 0x100000001b3n);
  }
  return value.toString(16).padStart(16, '0');
}
