/** Words on takes of other lengths: what they will need, beside what the test needed, and the hits that may come. */

/** Takes of other lengths. */
export const takeTexts = {
  heading: 'A longer take',
  testNotUsable: (percent: string): string =>
    `The test needed ${percent} %, more than half of the picture: not usable, and a longer take no better.`,
  test: (percent: string, forecast: string, chance: string): string =>
    `The test needed ${percent} %; ${forecast}. ${chance}.`,
  chance: (inHundred: number, testS: string): string =>
    `${inHundred} in 100 such takes need more than the test of ${testS} s did`,
  onward: (forecast: string): string => `Over the stretch of the test and on: ${forecast}.`,
  againNotUsable: 'The same stretch again needs more than half of the picture: not usable.',
  again: (percent: string, bound: string): string =>
    `The same stretch again needs about ${percent} %, ${bound}.`,

  // A take in a few words.
  length: (seconds: string): string => `a ${seconds} s take`,
  notUsable: (length: string): string => `${length} more than half of the picture: not usable`,
  about: (percent: string): string => `about ${percent} %`,
  noBound: (length: string, typical: string, because: string): string =>
    `${length} ${typical}; no bound${because}`,
  nothingToSay: (length: string, because: string): string => `nothing can be said of ${length}${because}`,
  because: (why: string): string => `, because ${why}`,
  typicalAndBound: (length: string, typical: string, bound: string): string =>
    `${length} ${typical}, ${bound}`,
  boundAlone: (length: string, bound: string): string => `${length}: ${bound}`,
  atLeast: (percent: string): string =>
    `allow at least ${percent} % for 19 in 20, since the test holds few hits`,
  below: (percent: string): string => `19 in 20 below ${percent} %`,
  overHalf: 'more than 1 in 20 over half of the picture: not usable',

  // Hits.
  noHit: (most: string, takeS: string): string =>
    `No hit was seen in the test; ${most} may come in a ${takeS} s take, and how hard is not known.`,
  someHits: 'some',
  upToHits: (count: number): string => `up to ${count}`,
  hits: (count: number): string =>
    count === 1
      ? '1 hit (a joint, or something under the wheels) was seen in the test and foretold apart from the steady shake.'
      : `${count} hits (joints, or things under the wheels) were seen in the test and foretold apart from the steady shake.`,
  whatIsAHit:
    'A hit is a kick of a fraction of a second that stands out of the shake around it; the list of the floor counts joints and bumps by their height instead.',

  // The table.
  otherWay: 'No take is foretold for this way; what follows holds where the move is kept. ',
  caption: (testS: string, keepingTheMove: boolean): string =>
    `Crop of other takes on a surface like this${keepingTheMove ? ', keeping the move' : ''} (this test: ${testS} s)`,
  head: {
    take: 'Take',
    typical: 'Typical crop',
    bound: '19 in 20 below',
    more: 'Needs more than the test',
    fromHere: '19 in 20 below, starting on this stretch',
  },
  seconds: (value: string): string => `${value} s`,
  overHalfCell: 'more than half',
  atLeastCell: (percent: string): string => `at least ${percent} %`,
  inHundred: (count: number): string => `${count} in 100`,
  dash: (whys: readonly string[]): string => `A dash: no bound, because ${whys.join('; because ')}.`,
} as const;
