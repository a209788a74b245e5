import { CompletionItemKind, type TextEdit } from 'vscode-languageserver-types';

/** Something that may be at the cursor. Earlier groups are listed first. */
export interface Offer {
  readonly label: string;
  readonly kind: CompletionItemKind;
  /** What is written instead of the label. */
  readonly text?: string;
  /** The same with places to fill in, for clients that know snippets. */
  readonly snippet?: string;
  readonly detail?: string;
  /** Markdown. */
  readonly documentation?: string;
  /** More, for a client that resolves the offer when it is selected. */
  readonly details?: () => string;
  /** 0 is first. */
  readonly group?: number;
  readonly alsoEdit?: readonly TextEdit[];
}

export function wordOffers(words: Iterable<string>, detail?: string, group = 0): Offer[] {
  return [...words].map((label) => ({ label, kind: CompletionItemKind.EnumMember, group, ...(detail && { detail }) }));
}

export function keywordOffer(label: string, documentation: string, extra: Partial<Offer> = {}): Offer {
  return { label, kind: CompletionItemKind.Keyword, documentation, group: 2, ...extra };
}

/** In a snippet these have a meaning of their own. */
export function escapeSnippet(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}
