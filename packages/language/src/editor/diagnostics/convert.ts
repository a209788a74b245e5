import type { LangiumDocument, LangiumDocuments } from 'langium';
import {
  type Diagnostic,
  type DiagnosticRelatedInformation,
  DiagnosticSeverity,
  DiagnosticTag,
} from 'vscode-languageserver-types';
import type { Finding, RelatedPlace } from '../../checks/finding.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import { documentOfPlace, rangeOf, visibleRangeOf } from '../place-ranges.ts';

export const PROTOCOL_SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

/** What a diagnostic has in addition whose finding is accepted. */
const ACCEPTED = { isAccepted: true };

export const isAccepted = ({ data }: Diagnostic): boolean => data === ACCEPTED;

/** What could be taken out: shown faded. */
const NOT_NEEDED: ReadonlySet<string> = new Set(['unused-use', 'stale-acceptance']);

/** A finding in the protocol's form. `document` is the file it is shown in. */
export function toDiagnostic(finding: Finding, document: LangiumDocument, documents: LangiumDocuments): Diagnostic {
  const related = finding.related.flatMap((place) => toRelated(place, documents));
  const { accepted } = finding;
  return {
    range: visibleRangeOf(document, finding.place.start, finding.place.end),
    severity: accepted === undefined ? PROTOCOL_SEVERITIES[finding.severity] : DiagnosticSeverity.Hint,
    code: finding.id,
    source: 'fettle',
    message: accepted === undefined ? finding.message : `${finding.message} Accepted: ${accepted}`,
    ...(accepted !== undefined && { data: ACCEPTED }),
    ...(NOT_NEEDED.has(finding.id) && { tags: [DiagnosticTag.Unnecessary] }),
    ...(related.length > 0 && { relatedInformation: related }),
  };
}

function toRelated(related: RelatedPlace, documents: LangiumDocuments): DiagnosticRelatedInformation[] {
  const document = documentOfPlace(related.place, documents);
  if (document === undefined) return [];
  const range = rangeOf(document, related.place.start, related.place.end);
  return [{ location: { uri: document.uri.toString(), range }, message: related.message }];
}
