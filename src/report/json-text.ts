/** JSON for people and machines. */

/** Two spaces of indent, but a series of numbers on one line. */
export function jsonText(value: unknown): string {
  const text = JSON.stringify(value, null, 2);
  // Strings never hold a raw line break, so only real arrays of numbers match.
  const numbers = /\[\n\s*((?:-?[\d.eE+-]+|null)(?:,\n\s*(?:-?[\d.eE+-]+|null))*)\n\s*\]/g;
  return `${text.replace(numbers, (_, inner: string) => `[${inner.replace(/\s+/g, ' ')}]`)}\n`;
}
