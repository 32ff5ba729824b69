/** Words of a comparison on a terminal, beside those that it shares with the page. */

/** Words of the lines of a comparison. */
export const compareLineTexts = {
  pair: (a: string, b: string, design: string): string => `${a} against ${b}. ${design}`,
  notFair: 'NOT FAIR',
  because: (why: string): string => `  - ${why}`,
  ranges: (lead: string, words: string): string => `Ranges: ${lead} ${words}`,
  crops: (words: string): string => `Crops:  ${words}`,
  warnings: (count: number): string => `Warnings: ${count}`,
  decide: 'Decide:',
  differs: (conditions: readonly string[]): string => `Differs: ${conditions.join('; ')}.`,
  condition: (what: string, a: string, b: string, matters: string | null): string =>
    `${what} ${a} / ${b}${matters === null ? '' : ` (${matters})`}`,
  noBands: (count: number): string =>
    `Bands:  none of ${count} stands out once corrected for looking at all of them.`,
  clearBands: (clear: number, count: number, axes: readonly string[]): string =>
    `Bands:  clear in ${clear} of ${count}: ${axes.join('; ')}.`,
  bandsOf: (axis: string, labels: readonly string[]): string => `${axis} ${labels.join(', ')}`,
  crop: (takeS: string, a: string, b: string): string =>
    `Crop:   ${takeS} s take: ${a}; ${b}. A cost, no test.`,
  cropOf: (name: string, median: string, upper: string): string => `${name} ${median} (19 in 20: ${upper})`,
  wavelengths: (band: string | null): string =>
    `Setup alone, by wavelength${band === null ? '' : ` (${band})`}:`,
  notCompared: 'not compared.',
  ratio: (value: string, range: string): string =>
    value === '' ? '-' : range === '' ? value : `${value} (${range})`,
} as const;
