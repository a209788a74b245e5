import { type DocumentValidator, isOperationCancelled, type LangiumDocument, type LangiumDocuments } from 'langium';
import { type Diagnostic, DiagnosticSeverity } from 'vscode-languageserver-types';
import type { Finding } from '../../checks/finding.ts';
import { checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import { defectMessage } from '../../syntax/defects.ts';
import { forget } from '../../syntax/memory.ts';
import { fileDocument, fileOf } from '../../syntax/nodes.ts';
import { asError } from '../../syntax/thrown.ts';
import { worstFirst } from '../../vocabulary/severities.ts';
import type { OpenTexts } from '../engine/open-texts.ts';
import { marginsOf, type PartMargin } from '../margins.ts';
import type { ClientForm } from './client-form.ts';
import { toDiagnostic } from './convert.ts';

/** The squiggles of a file are its findings, exactly those the command prints. Code actions request the findings themselves. */
export class FindingsValidator implements DocumentValidator {
  readonly #documents: LangiumDocuments;
  readonly #openTexts: OpenTexts;
  readonly #form: ClientForm;
  readonly #findings = new WeakMap<LangiumDocument, readonly Finding[]>();
  readonly #margins = new WeakMap<LangiumDocument, readonly PartMargin[]>();
  readonly #packs = new WeakMap<LangiumDocument, ReadonlyMap<string, number>>();

  constructor(documents: LangiumDocuments, openTexts: OpenTexts, form: ClientForm) {
    this.#documents = documents;
    this.#openTexts = openTexts;
    this.#form = form;
  }

  async validateDocument(document: LangiumDocument): Promise<Diagnostic[]> {
    try {
      const { builds, findings, defects } = checkDocument(readDocument(fileDocument(document)));
      this.#margins.set(document, marginsOf(builds));
      this.#packs.set(document, new Map(builds.map(({ build, assessments }) => [build.name, assessments.length])));
      const shown = withoutRepeats(findings).map((finding) => showIn(document, finding));
      this.#findings.set(document, shown);
      for (const { error } of defects) {
        console.error(`Internal error while checking ${document.uri.toString(true)}:`, error);
      }
      if (this.#openTexts.get(document.uri) === undefined) {
        // What was computed for a file that nobody looks at takes a hundred times the room of its findings.
        forget(document);
      }
      return [
        ...shown.map((finding) => this.#form.of(toDiagnostic(finding, document, this.#documents))),
        ...defects.slice(0, 1).map(({ error }) => internalError(document, error)),
      ];
    } catch (error) {
      if (isOperationCancelled(error)) throw error;
      console.error(`Internal error while checking ${document.uri.toString(true)}:`, error);
      this.#findings.set(document, []);
      return [internalError(document, error)];
    }
  }

  /** How near the parts of this file's builds came to their limits in its last completed check. */
  marginsIn(document: LangiumDocument): readonly PartMargin[] {
    return this.#margins.get(document) ?? [];
  }

  /** On how many packs a build of this file was assessed in its last completed check. */
  packCount(document: LangiumDocument, build: string): number {
    return this.#packs.get(document)?.get(build) ?? 0;
  }

  /** The findings of the last completed check of this file. */
  findingsIn(document: LangiumDocument): readonly Finding[] {
    return this.#findings.get(document) ?? [];
  }
}

/** Of a line that several builds share one finding, as severe as the worst of them; one that a build accepts does not hide that another does not. */
function withoutRepeats(findings: readonly Finding[]): Finding[] {
  const worst = new Map<string, Finding>();
  for (const finding of findings) {
    const { id, message, place, accepted } = finding;
    const key = JSON.stringify([id, message, place.uri, place.start, place.end, accepted]);
    const known = worst.get(key);
    if (known === undefined || worstFirst(finding, known) < 0) worst.set(key, finding);
  }
  return [...worst.values()];
}

/** A finding about a line that a build inherits from another file is shown at the top of this one, with the line as related place. */
function showIn(document: LangiumDocument, finding: Finding): Finding {
  const uri = document.uri.toString();
  if (finding.place.uri === uri) return finding;
  const part = fileOf(document).parts.find((candidate) => candidate.name === finding.build);
  const name = part?.$cstNode;
  const place = { uri, start: name?.offset ?? 0, end: (name?.offset ?? 0) + (part?.kind.length ?? 1) };
  return { ...finding, place, related: [{ message: 'here', place: finding.place }, ...finding.related] };
}

function internalError(document: LangiumDocument, error: unknown): Diagnostic {
  const message = defectMessage(asError(error));
  return {
    range: { start: { line: 0, character: 0 }, end: document.textDocument.positionAt(1) },
    severity: DiagnosticSeverity.Error,
    source: 'fettle',
    code: 'internal-error',
    message: `This file: ${message}.`,
  };
}
