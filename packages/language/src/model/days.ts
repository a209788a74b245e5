/** Days of the calendar as files write them: `2026-10-04`. */
import { type Day, isDay } from '../grammar/generated/ast.ts';

/** Undefined for what is no day of the calendar. */
export function readDay(value: Day | { readonly $type: string }): string | undefined {
  return isDay(value) && isDayOfCalendar(value.day) ? value.day : undefined;
}

/** The day of a moment in the reader's own zone. */
export function writtenDay(moment: Date): string {
  const two = (number: number): string => String(number).padStart(2, '0');
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;
}

const DAY = /^(\d{4})-(\d\d)-(\d\d)$/;

function isDayOfCalendar(text: string): boolean {
  if (!DAY.test(text)) return false;
  const time = Date.parse(`${text}T00:00:00Z`);
  return Number.isFinite(time) && new Date(time).toISOString().startsWith(text);
}

const YEAR_FIRST = /^(\d{4})[-–/.](\d{1,2})[-–/.](\d{1,2})$/;
const DAY_FIRST = /^(\d{1,2})\.(\d{1,2})\.(\d{4})$/;

/** What somebody meant who wrote it otherwise; undefined where that is not clear (`4/10/2026` may be April or October). */
export function dayMeant(text: string): string | undefined {
  const [, year, month, day] = YEAR_FIRST.exec(text.trim()) ?? [];
  const [, first, second, last] = DAY_FIRST.exec(text.trim()) ?? [];
  const meant = year ? [year, month, day] : [last, second, first];
  const written = meant.map((part = '') => part.padStart(2, '0')).join('-');
  return isDayOfCalendar(written) ? written : undefined;
}
