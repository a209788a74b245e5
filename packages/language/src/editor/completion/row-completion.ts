/** What may be in `rows duty in %, thrust in gf { … }` and in `log time, voltage from "…"`: columns, their units, and where the table is. */
import type { IToken } from 'chevrotain';
import { CompletionItemKind } from 'vscode-languageserver-types';
import { NONE } from '../../units/dimension.ts';
import { unitsOf } from '../../units/parse.ts';
import { COLUMNS, type Columns, columnOf, LOG_COLUMNS } from '../../vocabulary/columns.ts';
import { keywordOffer, type Offer } from './offer.ts';

/** The units may be in the file's headings. */
export function logOffers(before: readonly IToken[]): Offer[] {
  const last = before.at(-1);
  switch (last?.tokenType.name) {
    case undefined:
    case ',':
      return columnOffers(new Set(before.map(({ image }) => image)), LOG_COLUMNS, false);
    case 'in':
      return columnUnitOffers(before.at(-2)?.image ?? '', LOG_COLUMNS);
    case 'UNIT':
      return [HEADING, FROM];
    case 'STRING':
      return before.some(({ tokenType }) => tokenType.name === 'from') ? [] : [FROM];
    case 'from':
      return [];
    default:
      return columnOf(last?.image ?? '', LOG_COLUMNS) === undefined ? [] : [HEADING, FROM, IN];
  }
}

const HEADING = keywordOffer('"', 'What the file calls the column.', { text: '"', snippet: '"$1"', group: 0 });

export function rowsOffers(before: readonly IToken[]): Offer[] {
  const last = before.at(-1);
  switch (last?.tokenType.name) {
    case undefined:
    case ',':
      return columnOffers(new Set(before.map(({ image }) => image)));
    case 'in':
      return columnUnitOffers(before.at(-2)?.image ?? '');
    case 'UNIT':
      return [FROM, BLOCK];
    default:
      return columnOf(last?.image ?? '') === undefined ? [] : [IN];
  }
}

const IN = keywordOffer('in', 'The unit of the column.', { text: 'in ', group: 0 });
const FROM = keywordOffer('from', 'A CSV file in the folder of this one.', { text: 'from ', snippet: 'from "$1"' });
const BLOCK: Offer = {
  label: '{',
  kind: CompletionItemKind.Operator,
  detail: 'the rows themselves',
  text: '{',
  snippet: '{\n  $0\n}',
  group: 1,
};

/** Each once, with the unit the trade writes. */
const columnOffers = (present: ReadonlySet<string>, columns: Columns = COLUMNS, hasUnits = true): Offer[] =>
  Object.entries(columns)
    .filter(([label, { repeats }]) => repeats === true || !present.has(label))
    .map(([label, { unit, description }]) => ({
      label,
      kind: CompletionItemKind.Field,
      text: hasUnits ? `${label} in ${unit}` : label,
      detail: unit,
      documentation: description,
      group: 0,
    }));

function columnUnitOffers(name: string, columns: Columns = COLUMNS): Offer[] {
  const column = columnOf(name, columns);
  if (column === undefined) return [];
  const { unit, dimension } = column;
  const others = dimension === NONE ? [] : unitsOf(dimension);
  return [...new Set([unit, ...others])].map((label, index) => ({
    label,
    kind: CompletionItemKind.Unit,
    group: index === 0 ? 0 : 2,
  }));
}
