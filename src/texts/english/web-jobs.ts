/** Sentences of the queue behind the local page: orders that cannot be taken, and what became of the work. */
export const jobTexts = {
  orderUnreadable: 'This order cannot be read; reload the page and try again.',
  jobUnknown: 'This work is not on the list any more.',
  closing: 'The program is being closed; start it again, then order this anew.',
  queueFull: 'So many clips wait already that no more are taken; add this one when some are done.',
  noLog: 'There is no run in the log yet; it begins with the first clip that is measured.',
  seriesMissing: (run: number): string =>
    `Run ${run} was kept without its series, so nothing can be rendered from it; measure its clip again.`,
  clipOfRunMissing: (file: string): string =>
    `The clip "${file}" is not where it was; show where it is at its run, then ask again.`,
  workerDied:
    'The work stopped in the middle, perhaps for want of memory; nothing of it was kept. Try again.',
  workerMute: 'The work could not be started: the machine took too long. Close other programs and try again.',
  endedTwice:
    'The program ended twice in the middle of this, so it is not begun again by itself. Try it again when nothing else runs, or with a shorter stretch of the clip.',
  /** @param why a sentence */
  notInLog: (folder: string, why: string): string =>
    `The report is in "${folder}", but the run could not be kept in the log: ${why}`,
  proofAt: (file: string): string => `The stabilised clip is "${file}".`,
} as const;
