/** Makes the list of runs on the page of the log searchable and sortable; without it the list stands as it was written. */
import { logPageTexts } from '../../texts/index.js';

/** Starts every list below `root`. */
export function startRunLists(root: ParentNode): void {
  for (const table of root.querySelectorAll<HTMLTableElement>('table.run-list')) {
    makeSortable(table);
    const tools = table.closest('section')?.querySelector<HTMLElement>('.run-tools');
    if (tools) makeSearchable(table, tools);
  }
}

function rowsOf(table: HTMLTableElement): HTMLTableRowElement[] {
  return [...(table.tBodies[0]?.rows ?? [])];
}

function makeSearchable(table: HTMLTableElement, tools: HTMLElement): void {
  const document = table.ownerDocument;
  const label = document.createElement('label');
  label.textContent = logPageTexts.find;
  const input = document.createElement('input');
  input.type = 'search';
  label.append(input);
  const shown = document.createElement('output');
  tools.append(label, shown);
  const all = rowsOf(table);
  const words = new Map(all.map((row) => [row, (row.textContent ?? '').toLowerCase()]));
  const find = (): void => {
    const asked = input.value
      .toLowerCase()
      .split(/\s+/)
      .filter((word) => word !== '');
    let count = 0;
    for (const row of all) {
      row.hidden = !asked.every((word) => words.get(row)?.includes(word));
      if (!row.hidden) count++;
    }
    shown.textContent = logPageTexts.shown(count, all.length);
  };
  input.addEventListener('input', find);
  find();
}

function makeSortable(table: HTMLTableElement): void {
  const heads = [...(table.tHead?.querySelectorAll<HTMLTableCellElement>('th') ?? [])];
  for (const head of heads) {
    const name = head.textContent?.trim() ?? '';
    const button = table.ownerDocument.createElement('button');
    button.type = 'button';
    button.textContent = name;
    button.setAttribute('aria-label', logPageTexts.sortBy(name));
    head.replaceChildren(button);
    button.addEventListener('click', () => {
      const rising = head.getAttribute('aria-sort') !== 'ascending';
      for (const other of heads) other.removeAttribute('aria-sort');
      head.setAttribute('aria-sort', rising ? 'ascending' : 'descending');
      sortBy(table, head.cellIndex, rising);
    });
  }
}

function sortBy(table: HTMLTableElement, column: number, rising: boolean): void {
  const key = (row: HTMLTableRowElement): string => row.cells[column]?.dataset['sort'] ?? '';
  const sorted = rowsOf(table).sort((a, b) => {
    const [left, right] = [key(a), key(b)];
    // What is not known stands last either way.
    if (left === '' || right === '') return Number(left === '') - Number(right === '');
    const order =
      Number.isNaN(Number(left)) || Number.isNaN(Number(right))
        ? left.localeCompare(right, 'en')
        : Number(left) - Number(right);
    return rising ? order : -order;
  });
  table.tBodies[0]?.append(...sorted);
}
