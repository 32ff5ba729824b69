/** Words of the frame of the page, of the log and of the comparison in it. Figures come printed. */

/** What stands on every view. */
export const frameTexts = {
  name: 'Trundle',
  skip: 'Skip to the content',
  views: { start: 'New pass', work: 'Work', log: 'Log', run: 'Result', comparison: 'Comparison' },
  navigation: 'Views',
  running: (count: number): string => `${count} under way`,
  titleOf: (view: string): string => `${view} - Trundle`,
  toLight: 'Light',
  toDark: 'Dark',
  themeWhat: { light: 'Change to the light theme, for daylight', dark: 'Change to the dark theme' },
  keys: 'Keys',
  keysTitle: 'Keys on this view',
  keysNone: 'There are no other keys here.',
  keysShow: 'Show this list',
  keysClose: 'Close what lies on top',
  close: 'Close',
  cancel: 'Cancel',
  again: 'Try again',
  loading: 'Loading',
  notLoaded:
    'This part of the page could not be loaded: the program was stopped, or is another version by now.',
  loadAnew: 'Load the page anew',
  reconnecting: 'The program does not answer. Work that was begun goes on as long as it runs; trying again.',
  notFound: 'There is nothing at this address; this is the first screen.',
  noServer: 'The program does not answer. See whether it still runs in the terminal, then try again.',
  noToken: 'This page is no longer let in. Open the address that was printed in the terminal again.',
  garbled: 'The program gave an answer that this page does not understand. Load the page anew.',
  refusedTitle: 'That did not work',
  uploadCut:
    'The upload broke off. See whether the program still runs and whether the disk has room, then try again.',
  /** Names of keys that have no letter. */
  keyNames: {
    ' ': 'Space',
    ArrowLeft: '←',
    ArrowRight: '→',
    ArrowUp: '↑',
    ArrowDown: '↓',
    Escape: 'Esc',
    Delete: 'Delete',
    PageUp: 'Page up',
    PageDown: 'Page down',
  },
  shiftAnd: (key: string): string => `Shift + ${key}`,
} as const;
