import type { LangiumDocument, LangiumDocuments } from 'langium';
import {
  type Diagnostic,
  type DiagnosticRelatedInformation,
  DiagnosticSeverity,
  DiagnosticTag,
} from 'vscode-languageserver-types';
import type { Finding, RelatedPlace, Severity } from '../../checks/finding.ts';
import { documentOf, rangeOf, visibleRangeOf } from '../places.ts';

export const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

/** Between the message of an accepted finding and the reason. */
export const ACCEPTED = ' Accepted: ';

/** What could be taken out: shown faded. */
const NOT_NEEDED: ReadonlySet<string> = new Set(['unused-use', 'stale-acceptance']);

/** A finding in the protocol's form. `document` is the file it is shown in. */
export function toDiagnostic(finding: Finding, document: LangiumDocument, documents: LangiumDocuments): Diagnostic {
  const related = finding.related.flatMap((place) => toRelated(place, documents));
  const accepted = finding.accepted === undefined ? '' : `${ACCEPTED}${finding.accepted}`;
  return {
    range: visibleRangeOf(document, finding.place.start, finding.place.end),
    severity: finding.accepted === undefined ? SEVERITIES[finding.severity] : DiagnosticSeverity.Hint,
    code: finding.id,
    source: 'fettle',
    message: finding.message + accepted,
    ...(NOT_NEEDED.has(finding.id) && { tags: [DiagnosticTag.Unnecessary] }),
    ...(related.length > 0 && { relatedInformation: related }),
  };
}

function toRelated(related: RelatedPlace, documents: LangiumDocuments): DiagnosticRelatedInformation[] {
  const document = documentOf(related.place, documents);
  if (document === undefined) {
    return [];
  }
  const range = rangeOf(document, related.place.start, related.place.end);
  return [{ location: { uri: document.uri.toString(), range }, message: related.message }];
}
