/** What is said about the files of a report: pages that are printed, browsers that print them, and what to do when none can. */

/** Sentences about files. */
export const fileTexts = {
  /** Where a browser was found. */
  browserFrom: {
    setting: 'TRUNDLE_CHROMIUM',
    packaged: 'packaged with Trundle',
    installed: 'installed on this machine',
  },
  /** What to do, after "MISSING". */
  browserFix:
    'install Chromium or Chrome; for the packaged one on Debian and Ubuntu: apt-get install libnss3 libnspr4',
  browserFixSetting: 'TRUNDLE_CHROMIUM must be the path of a Chromium or Chrome that starts',
  /** One attempt that failed. */
  browserTried: (name: string, why: string): string => `${name}: ${why}`,
  browserNowhere: 'no Chromium or Chrome was found',
  /** The whole failure, in one sentence. */
  noBrowser: (tried: string, fix: string): string =>
    `No PDF was written, since no browser starts here (${tried}); ${fix}; or print the page (.html) from any browser.`,
  printFailed: (why: string): string =>
    `No PDF was written, since the browser broke off (${why}); print the page (.html) from any browser.`,
  printStopped: 'Stopped on request before the PDF was printed; the page (.html) stands.',
  /** Why a folder cannot be written, by the code of the system. */
  unwritable: {
    EACCES: 'no permission',
    EPERM: 'no permission',
    EROFS: 'the disk is read-only',
    ENOSPC: 'the disk is full',
    ENOTDIR: 'a part of the path is a file',
    ENOENT: 'nothing can be made there',
    EEXIST: 'a file of that name is in the way',
  },
} as const;
