import type { LangiumDocument } from 'langium';
import type { PartNode } from '../../grammar/generated/ast.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import type { Page } from '../../vocabulary/finding-page.ts';
import type { TextId } from '../../vocabulary/findings.ts';

/** A finding about the text itself: its severity, its page, and what finds it. */
export type TextCheck = TextCheckDescription & Detection;

interface TextCheckDescription {
  readonly id: TextId;
  /** Where what finds it states no other. */
  readonly severity: 'error' | NonNullable<Problem['severity']>;
  readonly page: Page;
}

/** What finds it. Whatever it is, what reads a line reports the same where that keeps the line from being read. */
type Detection = FoundInText | FoundInPart | FoundInNames | ReportedByReaders;

/** Before names are linked. */
interface FoundInText {
  readonly findInText: (document: FileDocument) => readonly Problem[];
}

/** In each part and build of a document whose names are linked. */
interface FoundInPart {
  /** @param isWhole false where a line of it could not be read: what seems to be missing may only have been lost */
  readonly findInPart: (part: PartNode, isWhole: boolean) => readonly Problem[];
}

/** In all names of a document, once they are linked. */
interface FoundInNames {
  readonly findInNames: (document: LangiumDocument, lookup: Lookup) => Iterable<Problem>;
}

/** By nothing of its own: what is wrong keeps a line or a name from being read, and whatever reads it reports that, `problem('clause', …)`. */
interface ReportedByReaders {
  readonly isReportedByReaders: true;
}
