/** Names of clips that fit into a line. Pure function. */

/**
 * Cuts a name in its middle: takes of one roll differ at their end.
 *
 * @param most characters that it may have
 * @example shortName('tiled-corridor-second-pass-a.mp4', 20) // "tiled-cor…pass-a.mp4"
 */
export function shortName(name: string, most: number): string {
  const letters = [...name];
  if (letters.length <= most) return name;
  const atEnd = Math.ceil(0.55 * (most - 1));
  return `${letters.slice(0, most - 1 - atEnd).join('')}…${letters.slice(-atEnd).join('')}`;
}
