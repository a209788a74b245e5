/** How each command can print; the usual way first. */
export const CHECK_FORMATS = ['text', 'json', 'sarif', 'github', 'gitlab', 'markdown', 'junit'] as const;
export const SHEET_FORMATS = ['html', 'markdown', 'svg'] as const;
export const CARD_FORMATS = ['text', 'markdown', 'html'] as const;
/** Of comparisons. */
export const TABLE_FORMATS = ['text', 'markdown', 'json'] as const;
export const REVIEW_FORMATS = [...TABLE_FORMATS, 'sarif'] as const;
export const LIST_FORMATS = ['text', 'json'] as const;

export type CheckFormat = (typeof CHECK_FORMATS)[number];
export type SheetFormat = (typeof SHEET_FORMATS)[number];
export type CardFormat = (typeof CARD_FORMATS)[number];
/** Of the candidates of a shortlist; `svg` is the front as a picture. */
export const CHOICE_FORMATS = [...TABLE_FORMATS, 'svg'] as const;

export type ChoiceFormat = (typeof CHOICE_FORMATS)[number];
export type TableFormat = (typeof TABLE_FORMATS)[number];
export type ReviewFormat = (typeof REVIEW_FORMATS)[number];
export type ListFormat = (typeof LIST_FORMATS)[number];
