/** What the commands are called and what each is for, apart from the commands: `trundle --help` shows this and loads nothing else. */

/** Name and purpose of each command, in the order in which help shows them. */
export const COMMAND_META = {
  measure: { name: 'measure', description: 'measure the clip of a test pass and write its report' },
  whatif: {
    name: 'whatif',
    description: 'say what a measured run would cost and leave with another lens, delivery, speed or dolly',
  },
  report: {
    name: 'report',
    description: 'write page, pictures and PDF of measured runs anew, in other units or on other paper',
  },
  compare: { name: 'compare', description: 'say which setup or lane shakes less, and whether that is sure' },
  serve: { name: 'serve', description: 'open a page on this machine: drop a clip, get the verdict' },
  proof: {
    name: 'proof',
    description: 'render the stabilised clip at the foretold crop, the original beside it',
  },
  lens: {
    name: 'lens',
    description: 'print a calibration board, and find focal length and distortion from a clip of it',
  },
  log: { name: 'log', description: 'list, describe and reopen the runs that were measured' },
  queue: {
    name: 'queue',
    description: 'measure clips on many machines, by a queue on Redis; the log stays on one',
  },
  synth: {
    name: 'synth',
    description: 'film a made-up hall with known motion, to see how far to trust the tool',
  },
  deliveries: { name: 'deliveries', description: 'list what the names of --for stand for' },
  'check-setup': {
    name: 'check-setup',
    description: 'show what was found on this machine, where its binaries came from, and what is missing',
  },
} as const;
