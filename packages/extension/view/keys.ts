/** A table is one stop of the tab key; arrows go from way to way inside it. */

const WAYS = '.way';

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
    return first(others.map((other) => other.cells[cell.cellIndex]));
  }
  const cells = [...row.cells];
  if (key === 'ArrowRight') return first(cells.slice(cell.cellIndex + 1));
  if (key === 'ArrowLeft') return first(cells.slice(0, cell.cellIndex).reverse());
  return undefined;
}

function first(cells: readonly (HTMLTableCellElement | undefined)[]): HTMLElement | undefined {
  return cells.flatMap((cell) => cell?.querySelector<HTMLElement>(WAYS) ?? [])[0];
}
