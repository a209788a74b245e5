/** Findings as SARIF 2.1.0 (OASIS, errata 01): what code scanning and many editors read. */
import { createHash } from 'node:crypto';
import { type Finding, type Fix, packsOf, type TextEdit } from '../../checks/finding.ts';
import { PAGES } from '../../checks/registry.ts';
import type { Place } from '../../syntax/place.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import type { Page } from '../../vocabulary/finding-page.ts';
import type { FindingId } from '../../vocabulary/findings.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import { jsonText } from '../present/json-text.ts';
import type { Sources } from '../present/sources.ts';
import type { Recorded } from './record.ts';

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

const LEVELS: Readonly<Record<Severity, string>> = {
  error: 'error',
  warning: 'warning',
  information: 'note',
  hint: 'note',
};

/** The base of relative paths, by the name that code scanning knows. */
const ROOT = '%SRCROOT%';

const ABSOLUTE = /^[a-z][a-z0-9+.-]+:/i;

/** A finding, and where its text is read. */
export interface Reported {
  readonly finding: Finding;
  readonly sources: Sources;
  /** Compared with a version before: what became of it, and on which packs. */
  readonly baseline?: {
    readonly state: 'new' | 'unchanged' | 'updated' | 'absent';
    readonly status: string;
    readonly packs: readonly string[];
  };
}

interface Run extends Pick<Recorded, 'failures' | 'pathOf'> {
  readonly reported: readonly Reported[];
  /** What paths are relative to. */
  readonly root: string;
}

/** @param version of the program, for its name in the log */
export function recordedSarif({ findings, sources, failures, pathOf }: Recorded, version: string): string {
  const reported = findings.map((finding) => ({ finding, sources }));
  return sarifOf({ reported, failures, pathOf, root: 'The folder that the command ran in.' }, version);
}

export function sarifOf(run: Run, version: string): string {
  const rules = [...new Set(run.reported.map(({ finding }) => finding.id))].sort();
  const log = {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Fettle', semanticVersion: version, rules: rules.map(ruleOf) } },
        columnKind: 'utf16CodeUnits',
        originalUriBaseIds: { [ROOT]: { description: { text: run.root } } },
        invocations: [
          {
            executionSuccessful: run.failures.length === 0,
            toolExecutionNotifications: run.failures.map(({ path, message }) => ({
              level: 'error',
              message: { text: plain(`${path}: ${message}`) },
              locations: [{ physicalLocation: { artifactLocation: artifact(path) } }],
            })),
          },
        ],
        results: fingerprinted(
          run.reported.map((one) => {
            const within = { sources: one.sources, pathOf: run.pathOf };
            return {
              result: resultOf(within, one, rules.indexOf(one.finding.id)),
              identity: identityOf(within, one.finding),
            };
          }),
        ),
      },
    ],
  };
  return jsonText(log);
}

function ruleOf(id: FindingId) {
  const page = PAGES[id];
  return {
    id,
    shortDescription: { text: page.title },
    fullDescription: { text: page.cause },
    help: { text: helpText(page), markdown: helpMarkdown(page) },
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

type Within = Pick<Recorded, 'sources' | 'pathOf'>;

function resultOf(checked: Within, { finding, baseline }: Reported, ruleIndex: number) {
  const { id, severity, message, place, build, related, fixes, accepted } = finding;
  const on = baseline ? baseline.packs : packsOf(finding);
  const properties = { ...(on.length > 0 && { packs: on }), ...(baseline && { status: baseline.status }) };
  // The format has no fix without an edit.
  const edited = fixes.filter(({ edits }) => edits.length > 0);
  return {
    ruleId: id,
    ruleIndex,
    level: LEVELS[severity],
    ...(baseline && { baselineState: baseline.state }),
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
    ...(edited.length > 0 && { fixes: edited.map((fix) => fixOf(checked, fix)) }),
    ...(accepted !== undefined && {
      suppressions: [{ kind: 'inSource', status: 'accepted', justification: plain(accepted) }],
    }),
    ...(Object.keys(properties).length > 0 && { properties }),
  };
}

/**
 * What stays of a finding when lines move: its id, file, build, packs and the text it underlines. Numbers in its message change with
 * the parts, so the message is no part of it.
 */
function identityOf(checked: Within, { id, place, build, pack, packs }: Finding): string {
  return JSON.stringify([id, checked.pathOf(place.uri), build, packs ?? pack, checked.sources.words(place)]);
}

/** With `partialFingerprints` (3.27.17); results that are alike are distinguished by their order in the file. */
function fingerprinted<T extends object>(results: readonly { readonly result: T; readonly identity: string }[]) {
  const seen = new Map<string, number>();
  return results.map(({ result, identity }) => {
    const count = (seen.get(identity) ?? 0) + 1;
    seen.set(identity, count);
    const hash = createHash('sha256').update(`${identity}#${count}`).digest('hex').slice(0, 32);
    return { ...result, partialFingerprints: { 'fettleFinding/v1': hash } };
  });
}

function fixOf(checked: Within, { title, edits }: Fix) {
  const files = new Map<string, TextEdit[]>();
  for (const edit of edits) files.set(edit.place.uri, [...(files.get(edit.place.uri) ?? []), edit]);
  return {
    description: { text: plain(title) },
    artifactChanges: [...files].map(([uri, changes]) => ({
      artifactLocation: artifact(checked.pathOf(uri)),
      replacements: changes.map(({ place, newText }) => ({
        deletedRegion: regionOf(checked, place) ?? { startLine: 1 },
        insertedContent: { text: newText },
      })),
    })),
  };
}

function physical(checked: Within, place: Place) {
  const region = regionOf(checked, place);
  return { artifactLocation: artifact(checked.pathOf(place.uri)), ...(region && { region }) };
}

function regionOf(checked: Within, place: Place) {
  const excerpt = checked.sources.excerpt(place);
  if (!excerpt) return undefined;
  const { start, end } = excerpt;
  return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
}

/** A file of the workspace is reported relative to its root; what is a URI already is whole. */
function artifact(path: string) {
  const uri = reference(path);
  return uri === path && ABSOLUTE.test(path) ? { uri } : { uri, uriBaseId: ROOT };
}

/** A path as a relative URI reference; what is a URI already stays one. */
function reference(path: string): string {
  if (ABSOLUTE.test(path)) return path;
  return path.replaceAll('\\', '/').split('/').map(encodeURIComponent).join('/');
}

/** A message is plain text to which only `[words](target)` means more (3.11.6). */
const plain = (text: string): string => terminalSafe(text).replace(/\[(?=[^\]]*\]\()/g, '\\[');
