/** Says in our own words where a text stops being JSON, by lines; the words of the engine differ from one to the next and repeat the text. */

/** Messages of the engines for a text that ends before it is whole; some tell the position of the end instead. */
const ENDS_EARLY = /\bend\b|EOF|unterminated/i;

/**
 * Where a text that is not JSON goes wrong.
 *
 * @param text a text that `JSON.parse` refuses
 * @returns words that go after "is not JSON:"
 * @example jsonFault('{\n"phone": x\n}') // "a sign that does not belong there at line 2"
 */
export function jsonFault(text: string): string {
  const lines = text.trimEnd().split('\n');
  if (text.trim() === '') return 'it is empty';
  // No word of JSON goes over the end of a line, so that the lines up to the faulty one can be continued and those with it cannot.
  let [sound, faulty] = [0, lines.length + 1];
  while (faulty - sound > 1) {
    const count = Math.floor((sound + faulty) / 2);
    if (canGoOn(`${lines.slice(0, count).join('\n')}\n`)) sound = count;
    else faulty = count;
  }
  return faulty > lines.length
    ? `it ends too early at line ${lines.length}`
    : `a sign that does not belong there at line ${faulty}`;
}

function canGoOn(start: string): boolean {
  try {
    JSON.parse(start);
    return true;
  } catch (error) {
    const message = (error as Error).message.replace(/".*"/s, '');
    const position = /at position (\d+)/.exec(message)?.[1];
    return ENDS_EARLY.test(message) || (position !== undefined && Number(position) >= start.length);
  }
}
