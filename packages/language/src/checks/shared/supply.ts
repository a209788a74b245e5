import type { Feed, PackOption } from '../../model/build.ts';

/** "straight off Mast900_4S", "from rail video" */
export const supplyName = (from: Feed, option: PackOption): string =>
  'rail' in from ? `from ${from.rail.name}` : `straight off ${option.name}`;
