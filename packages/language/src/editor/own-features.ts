/** The features for which Langium has no provider; those for which it has one are in `editor-module.ts`. */
import type { OwnFeature } from './own-feature.ts';
import { selectionRanges } from './selection-ranges.ts';

export const OWN_FEATURES: readonly OwnFeature[] = [selectionRanges];
