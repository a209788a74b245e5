/** What may be in `rows duty in %, thrust in gf { … }`: columns, their units, and where the rows are. */
import type { IToken } from 'chevrotain';
import { CompletionItemKind } from 'vscode-languageserver-types';
import { NONE } from '../../units/dimension.ts';
import { unitsOf } from '../../units/parse.ts';
import { COLUMNS, columnOf } from '../../vocabulary/columns.ts';
import { keywordOffer, type Offer } from './offer.ts';

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
const FROM = keywordOffer('from', 'A CSV file beside this one.', { text: 'from ', snippet: 'from "$1"' });
const BLOCK: Offer = {
  label: '{',
  kind: CompletionItemKind.Operator,
  detail: 'the rows themselves',
  text: '{',
  snippet: '{\n  $0\n}',
  group: 1,
};

/** Each once, with the unit the trade writes. */
const columnOffers = (present: ReadonlySet<string>): Offer[] =>
  Object.entries(COLUMNS)
    .filter(([label]) => !present.has(label))
    .map(([label, { unit, says }]) => ({
      label,
      kind: CompletionItemKind.Field,
      text: `${label} in ${unit}`,
      detail: unit,
      documentation: says,
      group: 0,
    }));

function columnUnitOffers(name: string): Offer[] {
  const column = columnOf(name);
  if (column === undefined) return [];
  const { unit, dimension } = column;
  const others = dimension === NONE ? [] : unitsOf(dimension);
  return [...new Set([unit, ...others])].map((label, index) => ({
    label,
    kind: CompletionItemKind.Unit,
    group: index === 0 ? 0 : 2,
  }));
}
