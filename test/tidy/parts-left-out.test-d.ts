/**
 * What may be left out of an entry, and of a table of entries: all else does not compile without it. Nothing here is run: it is proved when the
 * types of the tests are checked.
 */
import { expectTypeOf } from 'vitest';
import type { READINGS } from '../../packages/language/src/analysis/learn/flight-readings.ts';
import type { RESULT_COMPUTATIONS } from '../../packages/language/src/analysis/results/generated/result-files.ts';
import type { ResultComputation } from '../../packages/language/src/analysis/results/result.ts';
import type { Check } from '../../packages/language/src/checks/check.ts';
import type { CRAFT_CHECKS } from '../../packages/language/src/checks/generated/checks.ts';
import type { PAGES } from '../../packages/language/src/checks/registry.ts';
import type { TEXT_CHECKS } from '../../packages/language/src/checks/text/generated/text-checks.ts';
import type { TextCheck } from '../../packages/language/src/checks/text/text-check.ts';
import type { CheckFormatEntry } from '../../packages/language/src/cli/formats.ts';
import type { OwnFeature } from '../../packages/language/src/editor/feature.ts';
import type { OWN_FEATURES } from '../../packages/language/src/editor/own-features.ts';
import type { OWN_ANSWERS } from '../../packages/language/src/editor/requests/answer.ts';
import type { Part } from '../../packages/language/src/model/build.ts';
import { CURRENT } from '../../packages/language/src/units/dimension.ts';
import type { Page } from '../../packages/language/src/vocabulary/finding-page.ts';
import type { CraftFinding, FindingId, TextId } from '../../packages/language/src/vocabulary/findings.ts';
import type { DescribedLine } from '../../packages/language/src/vocabulary/kinds/flying.ts';
import type {
  CellsName,
  DateName,
  FigureName,
  PatternName,
  PropertyName,
  RangeName,
  SizeName,
  WordName,
} from '../../packages/language/src/vocabulary/properties.ts';
import type { ResultName, ResultSchema } from '../../packages/language/src/vocabulary/results.ts';

/** Names of its parts that it compiles without; where an entry is of one of several forms, those of each. */
type MayLack<Entry> = Entry extends unknown
  ? { [Part in keyof Entry]-?: Record<never, never> extends Pick<Entry, Part> ? Part : never }[keyof Entry]
  : never;

const mayLack = <Entry>() => expectTypeOf<MayLack<Entry>>();

// The question itself.
mayLack<{ readonly title: string; readonly hint?: string }>().toEqualTypeOf<'hint'>();

// A result.
mayLack<ResultSchema>().toEqualTypeOf<never>();
mayLack<ResultComputation>().toEqualTypeOf<never>();
expectTypeOf<ResultComputation>().toExtend<{ explain: object; needs: object; of: object | string }>();
expectTypeOf<keyof typeof RESULT_COMPUTATIONS>().toEqualTypeOf<ResultName>();
mayLack<typeof RESULT_COMPUTATIONS>().toEqualTypeOf<never>();

// A check: each form lacks one function or may lack it, and none lacks both.
mayLack<CraftFinding>().toEqualTypeOf<'isWish' | 'isNote'>();
mayLack<Check>().toEqualTypeOf<'atMost' | 'folds' | 'option' | 'build'>();
expectTypeOf<Omit<Check & { option: object; build?: undefined }, 'option'>>().not.toExtend<Check>();
expectTypeOf<Omit<Check & { build: object; option?: undefined }, 'build'>>().not.toExtend<Check>();
expectTypeOf<Check['page']['fixes'][number]>().toEqualTypeOf<'computed' | 'another-part'>();
mayLack<typeof CRAFT_CHECKS>().toEqualTypeOf<never>();

// A check of the text: what finds it is in each form.
mayLack<TextCheck>().toEqualTypeOf<never>();
expectTypeOf<Pick<TextCheck, 'id' | 'severity' | 'page'>>().not.toExtend<TextCheck>();
expectTypeOf<keyof typeof TEXT_CHECKS>().toEqualTypeOf<TextId>();
mayLack<typeof TEXT_CHECKS>().toEqualTypeOf<never>();

// The page of either: lines without the finding, or the reason why there are none.
mayLack<Page>().toEqualTypeOf<'passes'>();
expectTypeOf<Omit<Page & { passes: string }, 'passes'>>().not.toExtend<Page>();
expectTypeOf<keyof typeof PAGES>().toEqualTypeOf<FindingId>();
mayLack<typeof PAGES>().toEqualTypeOf<never>();

// A kind of observation: a line that is no date has its unit and its ±.
const LINE = {
  shape: 'quantity',
  dimension: CURRENT,
  unit: 'A',
  plausible: [0, 100],
  tolerance: { stated: { relative: 0.03 } },
  description: 'Current on the ground.',
} as const;
expectTypeOf<typeof LINE>().toExtend<DescribedLine>();
expectTypeOf<Omit<typeof LINE, 'unit'>>().not.toExtend<DescribedLine>();
expectTypeOf<Omit<typeof LINE, 'tolerance'>>().not.toExtend<DescribedLine>();
mayLack<(typeof READINGS)['scale']>().toEqualTypeOf<'isPlain' | 'instrument' | 'least' | 'point'>();
mayLack<typeof READINGS>().toEqualTypeOf<never>();

// A format, and an editor feature.
mayLack<CheckFormatEntry>().toEqualTypeOf<never>();
mayLack<OwnFeature<'hoverProvider'>>().toEqualTypeOf<never>();
mayLack<typeof OWN_FEATURES>().toEqualTypeOf<never>();

// What answers a request of our own.
mayLack<typeof OWN_ANSWERS>().toEqualTypeOf<never>();

// What is read of a part: names of properties of that shape, and no others.
type ReadBy<Reader extends 'figure' | 'declared' | 'usual' | 'range' | 'size' | 'word' | 'cells' | 'part'> = Parameters<
  Part<'motor' | 'pack'>[Reader]
>[0];
expectTypeOf<ReadBy<'figure'>>().toEqualTypeOf<FigureName<'motor' | 'pack'>>();
expectTypeOf<ReadBy<'declared'>>().toEqualTypeOf<FigureName<'motor' | 'pack'>>();
expectTypeOf<ReadBy<'usual'>>().toEqualTypeOf<FigureName<'motor' | 'pack'>>();
expectTypeOf<ReadBy<'range'>>().toEqualTypeOf<'rated'>();
expectTypeOf<ReadBy<'size'>>().toEqualTypeOf<'stator' | 'size'>();
expectTypeOf<ReadBy<'word'>>().toEqualTypeOf<'chemistry' | 'plus' | 'plug'>();
expectTypeOf<ReadBy<'cells'>>().toEqualTypeOf<'cells'>();
expectTypeOf<ReadBy<'part'>>().toEqualTypeOf<'plug'>();
expectTypeOf<'kv' | 'lead' | 'price' | 'poles'>().toExtend<FigureName<'motor' | 'pack'>>();
expectTypeOf<
  Extract<FigureName<'motor' | 'pack'>, 'stator' | 'size' | 'rated' | 'chemistry' | 'plug' | 'cells'>
>().toEqualTypeOf<never>();

// The shape of each property is known: one that is typed as a property of any shape is read by nothing.
type Read = FigureName | WordName | RangeName | SizeName | PatternName | CellsName | DateName;
expectTypeOf<Exclude<PropertyName, Read>>().toEqualTypeOf<'vary' | 'leg'>();
