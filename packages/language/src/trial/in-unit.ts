/** A number as a person writes it. */
import { formatValue } from '../units/print.ts';

export const inUnit = (value: number, unit: string): string => formatValue(value, unit, 9);
