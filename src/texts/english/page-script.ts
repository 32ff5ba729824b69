/** Words of what the page does when it is looked into: tools beside a chart, what is read at a place, keys. */

/** Words of the live parts of a page. */
export const pageScriptTexts = {
  /** Name of the place in a chart that keys move. @param chart its caption */
  cursor: (chart: string): string => `Read off: ${chart}`,
  nothingRead: 'nothing read yet',
  nothingHere: 'nothing measured here',
  /** @param place where, @param values what stands there */
  reading: (place: string, values: readonly string[]): string => `${place}: ${values.join(', ')}`,
  series: 'Lines shown',
  stretch: {
    time: 'Stretch of time shown',
    distance: 'Stretch of the run shown',
    frequency: 'Frequencies shown',
    other: 'Stretch shown',
  },
  closer: 'Closer',
  wider: 'Wider',
  left: 'Move left',
  right: 'Move right',
  whole: 'Whole',
  readKeys:
    'Keys: left and right arrow read off, page up and down in tens, Home and End go to the ends, Escape hides.',
  zoomKeys: 'Plus and minus show less and more, 0 the whole. Or drag over a stretch.',
} as const;
