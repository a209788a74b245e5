/** How each command can print; the usual way first. */
import type pc from 'picocolors';
import type { Detail, Recorded } from '../report/formats/record.ts';
import { version } from '../report/present/version.ts';
import { keysOf } from '../units/lookup-table.ts';
import type { Severity } from '../vocabulary/severities.ts';

interface Printing {
  readonly failOn: Severity;
  readonly colors: ReturnType<typeof pc.createColors>;
}

export interface CheckFormatEntry {
  /** Of each build its headlines, or everything that was computed. */
  readonly prints: Extract<Detail, 'headlines' | 'results'>;
  readonly print: (checked: Recorded, printing: Printing) => Promise<string>;
}

/** A format is a file in `report/formats` and an entry here. Each is loaded when it is needed. */
export const CHECK_PRINTERS = {
  text: {
    prints: 'headlines',
    print: async (checked, { colors }) => (await import('../report/formats/text.ts')).recordedText(checked, colors),
  },
  json: {
    prints: 'results',
    print: async (checked) => (await import('../report/formats/json.ts')).recordedJson(checked),
  },
  sarif: {
    prints: 'headlines',
    print: async (checked) => (await import('../report/formats/sarif.ts')).recordedSarif(checked, version),
  },
  github: {
    prints: 'headlines',
    print: async (checked) => (await import('../report/formats/annotations.ts')).toAnnotations(checked),
  },
  gitlab: {
    prints: 'headlines',
    print: async (checked) => (await import('../report/formats/code-quality.ts')).toCodeQuality(checked),
  },
  markdown: {
    prints: 'headlines',
    print: async (checked) => (await import('../report/formats/markdown.ts')).recordedMarkdown(checked),
  },
  junit: {
    prints: 'headlines',
    print: async (checked, { failOn }) => (await import('../report/formats/junit.ts')).toJunit(checked, failOn),
  },
} satisfies Readonly<Record<string, CheckFormatEntry>>;

export type CheckFormat = keyof typeof CHECK_PRINTERS;

export const CHECK_FORMATS: readonly CheckFormat[] = keysOf(CHECK_PRINTERS);
export const SHEET_FORMATS = ['html', 'markdown', 'svg'] as const;
export const CARD_FORMATS = ['text', 'markdown', 'html'] as const;
/** Of comparisons. */
export const TABLE_FORMATS = ['text', 'markdown', 'json'] as const;
export const REVIEW_FORMATS = [...TABLE_FORMATS, 'sarif'] as const;
export const LIST_FORMATS = ['text', 'json'] as const;

export type SheetFormat = (typeof SHEET_FORMATS)[number];
export type CardFormat = (typeof CARD_FORMATS)[number];
/** Of the candidates of a shortlist; `svg` is the front as a picture, `html` a page with both. */
export const CHOICE_FORMATS = [...TABLE_FORMATS, 'html', 'svg'] as const;

export type ChoiceFormat = (typeof CHOICE_FORMATS)[number];
export type TableFormat = (typeof TABLE_FORMATS)[number];
export type ReviewFormat = (typeof REVIEW_FORMATS)[number];
export type ListFormat = (typeof LIST_FORMATS)[number];
