/** Words for somebody who has a form where sentences of a report send to the command line. */

/** What is said instead of commands, and of options that no field of the form stands for. */
export const formWordsTexts = {
  /** In this order: later ones would match within earlier ones. */
  instead: [
    ['Calibrate the lens once with "trundle lens"', 'Calibrate the lens once'],
    ['"trundle lens"', 'a calibration of the lens'],
    [
      'measure it with --against: that tells floor and wheels from machines',
      'measure it too: what stays at its frequency comes from machines',
    ],
  ],
} as const;
