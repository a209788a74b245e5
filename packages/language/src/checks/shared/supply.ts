import type { Feed, PackOption } from '../../model/build.ts';
import type { Nameable } from '../../model/named.ts';
import type { Range } from '../../model/part-values.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import { fullPackVoltage } from './cells.ts';

/** "straight off Mast900_4S", "from rail video" */
export const supplyName = (from: Feed, option: PackOption): string =>
  'rail' in from ? `from ${from.rail.name}` : `straight off ${option.name}`;

/** What that names. */
export const supplierOf = (from: Feed, option: PackOption): Nameable => ('rail' in from ? from.rail : option);

/** A maximum of just the full cells is meant by cells: where the charger stops decides nothing. */
export const isMeantByCells = (severity: Severity | 'undecided', { high }: Range, option: PackOption): boolean =>
  severity === 'undecided' && high >= (fullPackVoltage(option) ?? Number.POSITIVE_INFINITY) * (1 - ROUNDING);

const ROUNDING = 1e-6;
