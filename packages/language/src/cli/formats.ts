/** How each command can print; the usual way first. */
export const SHEET_FORMATS = ['html', 'markdown', 'svg'] as const;
export const CARD_FORMATS = ['text', 'markdown', 'html'] as const;

export type SheetFormat = (typeof SHEET_FORMATS)[number];
export type CardFormat = (typeof CARD_FORMATS)[number];
