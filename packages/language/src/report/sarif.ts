/** Findings as SARIF 2.1.0 (OASIS, errata 01): what code scanning and many editors read. */
import type { Page } from '../checks/check.ts';
import type { Finding, Fix, Severity, TextEdit } from '../checks/finding.ts';
import { PAGES } from '../checks/registry.ts';
import type { Place } from '../model/place.ts';
import { describeFinding } from '../vocabulary/findings.ts';
import { jsonText } from './json-text.ts';
import type { Recorded } from './record.ts';
import { terminalSafe } from './terminal-safe.ts';

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

const LEVELS: Readonly<Record<Severity, string>> = {
  error: 'error',
  warning: 'warning',
  information: 'note',
  hint: 'note',
};

/** @param version of the program, for its name in the log */
export function toSarif(checked: Recorded, version: string): string {
  const rules = [...new Set(checked.findings.map(({ id }) => id))].sort();
  const log = {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Fettle', semanticVersion: version, rules: rules.map(ruleOf) } },
        columnKind: 'utf16CodeUnits',
        invocations: [
          {
            executionSuccessful: checked.failures.length === 0,
            toolExecutionNotifications: checked.failures.map(({ path, message }) => ({
              level: 'error',
              message: { text: plain(`${path}: ${message}`) },
              locations: [{ physicalLocation: { artifactLocation: { uri: reference(path) } } }],
            })),
          },
        ],
        results: checked.findings.map((finding) => resultOf(checked, finding, rules.indexOf(finding.id))),
      },
    ],
  };
  return jsonText(log);
}

function ruleOf(id: string) {
  const page = PAGES[id];
  const short = page?.title ?? describeFinding(id);
  return {
    id,
    ...(short !== undefined && { shortDescription: { text: short } }),
    ...(page && {
      fullDescription: { text: page.cause },
      help: { text: helpText(page), markdown: helpMarkdown(page) },
    }),
  };
}

const sectionsOf = ({ cause, criterion, standing, remedy }: Page): (readonly [string, string])[] => [
  ['What happens', cause],
  ['Criterion', criterion],
  ['Where it comes from', standing],
  ['What to do', remedy],
];

const helpText = (page: Page): string =>
  sectionsOf(page)
    .map(([title, text]) => `${title}: ${text}`)
    .join('\n\n');

const helpMarkdown = (page: Page): string =>
  sectionsOf(page)
    .map(([title, text]) => `**${title}**\n\n${text}`)
    .join('\n\n');

function resultOf(checked: Recorded, finding: Finding, ruleIndex: number) {
  const { id, severity, message, place, build, pack, packs, related, fixes, accepted } = finding;
  return {
    ruleId: id,
    ruleIndex,
    level: LEVELS[severity],
    message: { text: plain(message) },
    locations: [
      {
        physicalLocation: physical(checked, place),
        ...(build !== undefined && { logicalLocations: [{ name: build, kind: 'type' }] }),
      },
    ],
    ...(related.length > 0 && {
      relatedLocations: related.map((one, index) => ({
        id: index + 1,
        message: { text: plain(one.message) },
        physicalLocation: physical(checked, one.place),
      })),
    }),
    ...(fixes.length > 0 && { fixes: fixes.map((fix) => fixOf(checked, fix)) }),
    ...(accepted !== undefined && {
      suppressions: [{ kind: 'inSource', status: 'accepted', justification: plain(accepted) }],
    }),
    ...(pack !== undefined && { properties: { packs: packs ?? [pack] } }),
  };
}

function fixOf(checked: Recorded, { title, edits }: Fix) {
  const files = new Map<string, TextEdit[]>();
  for (const edit of edits) files.set(edit.place.uri, [...(files.get(edit.place.uri) ?? []), edit]);
  return {
    description: { text: plain(title) },
    artifactChanges: [...files].map(([uri, changes]) => ({
      artifactLocation: { uri: reference(checked.pathOf(uri)) },
      replacements: changes.map(({ place, newText }) => ({
        deletedRegion: regionOf(checked, place) ?? { startLine: 1 },
        insertedContent: { text: newText },
      })),
    })),
  };
}

function physical(checked: Recorded, place: Place) {
  const region = regionOf(checked, place);
  return { artifactLocation: { uri: reference(checked.pathOf(place.uri)) }, ...(region && { region }) };
}

function regionOf(checked: Recorded, place: Place) {
  const excerpt = checked.sources.excerpt(place);
  if (!excerpt) return undefined;
  const { start, end } = excerpt;
  return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
}

/** A path as a relative URI reference; what is a URI already stays one. */
function reference(path: string): string {
  if (/^[a-z][a-z0-9+.-]+:/i.test(path)) return path;
  return path.replaceAll('\\', '/').split('/').map(encodeURIComponent).join('/');
}

/** A message is plain text to which only `[words](target)` means more (3.11.6). */
const plain = (text: string): string => terminalSafe(text).replace(/\[(?=[^\]]*\]\()/g, '\\[');
