/** A table is one stop of the tab key; arrows go from button to button inside it. */

const WAYS = 'button';

export function takeOneStopATable(section: HTMLElement): void {
  for (const table of section.querySelectorAll('table')) {
    table.querySelectorAll<HTMLElement>(WAYS).forEach((way, i) => {
      way.tabIndex = i === 0 ? 0 : -1;
    });
  }
}

export function moveFocus(event: KeyboardEvent): void {
  const from = event.target instanceof HTMLElement ? event.target.closest<HTMLElement>(WAYS) : null;
  const table = from?.closest('table');
  if (!from || !table) return;
  const to = neighbourOf(from, event.key);
  if (to === undefined) return;
  event.preventDefault();
  for (const way of table.querySelectorAll<HTMLElement>(WAYS)) way.tabIndex = -1;
  to.tabIndex = 0;
  to.focus();
}

function neighbourOf(way: HTMLElement, key: string): HTMLElement | undefined {
  const row = way.closest('tr');
  const cell = way.closest<HTMLTableCellElement>('td, th');
  if (!row || !cell) return undefined;
  if (key === 'ArrowDown' || key === 'ArrowUp') {
    const rows = [...(row.closest('table')?.rows ?? [])];
    const others = key === 'ArrowDown' ? rows.slice(rows.indexOf(row) + 1) : rows.slice(0, rows.indexOf(row)).reverse();
    const number = waysIn(cell).indexOf(way);
    const cells = others.map((other) => waysIn(other.cells[cell.cellIndex]));
    const [next = []] = cells.filter((ways) => ways.length > 0);
    return next[number] ?? next[0];
  }
  const ways = waysIn(row);
  if (key === 'ArrowRight') return ways[ways.indexOf(way) + 1];
  if (key === 'ArrowLeft') return ways[ways.indexOf(way) - 1];
  return undefined;
}

const waysIn = (element: HTMLElement | undefined): HTMLElement[] => [
  ...(element?.querySelectorAll<HTMLElement>(WAYS) ?? []),
];
