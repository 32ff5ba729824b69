/** Words of measuring many clips at once: how far it is, what became of each, and what to do about those that failed. */

/** Words for many clips. */
export const batchTexts = {
  memoryShort:
    'This machine ran out of memory; close other programs, or measure fewer clips at once with --jobs.',
  fault: (message: string): string => `A fault of the program, not of the clip: ${message}`,
  workerDied:
    'The measurement stopped in the middle, perhaps for want of memory; run this again, with --jobs 1 where it happens anew.',
  workerMute:
    'The measurement could not be started: the machine took too long. Close other programs and run this again.',
  noClips: (folder: string, recursive: boolean): string =>
    `There is no clip in the folder "${folder}": no file with an ending of clips, such as .mp4, .mov or .mxf${recursive ? '' : '; --recursive looks into the folders below, too'}.`,

  jobsWhole: (asked: string): string => `"--jobs ${asked}" must be a whole number, 1 or more.`,
  jobsTooMany: (
    atOnce: number,
    on: {
      readonly asked: string;
      readonly cores: number;
      readonly fitting: number;
      readonly gigabytesEach: number;
    },
  ): string =>
    `"--jobs ${on.asked}" is more than this machine carries: ${on.cores === 1 ? '1 core' : `${on.cores} cores`}, and free memory for ${on.fitting} at ${on.gigabytesEach} GB a clip. At most ${atOnce} ${atOnce === 1 ? 'is' : 'are'} measured at once.`,

  // While it runs.
  atOnce: (atOnce: number): string => (atOnce === 1 ? 'One clip at a time' : `${atOnce} clips at once`),
  watching: (folders: readonly string[]): string =>
    `Watching ${folders.map((folder) => `"${folder}"`).join(', ')} for clips; Ctrl-C ends it.`,
  done: (done: number, found: number): string => `${done} of ${found} done`,
  underWay: (clips: readonly string[]): string => `running: ${clips.join(', ')}`,
  waiting: (count: number): string => `${count} waiting`,
  idle: 'waiting for clips',
  left: (time: string): string => `about ${time} left`,
  seconds: (count: number): string => `${count} s`,
  minutes: (count: number): string => `${count} min`,
  hours: (hours: number, minutes: number): string => `${hours} h ${minutes} min`,
  stages: { probe: 'reading', track: 'following features', split: 'splitting', judge: 'judging' },
  stage: (clip: string, stage: string, percent: number | null): string =>
    `${clip} ${stage}${percent === null ? '' : ` ${percent} %`}`,
  finishing: (count: number): string =>
    count === 1
      ? 'Finishing the clip that is being measured; interrupt again to stop it at once.'
      : `Finishing the ${count} clips that are being measured; interrupt again to stop them at once.`,
  ended: (clip: string, what: string): string => `${clip}: ${what}`,
  crop: (grade: string, crop: string): string => `${grade}, crop ${crop}`,

  // The table at the end.
  heads: ['clip', 'verdict', 'crop %', 'shakes most', 'floor', 'outcome'],
  inDoubt: (grade: string): string => `${grade}, in doubt`,
  overHalf: '> 50',
  percent: (figure: string): string => `${figure} %`,
  none: '-',
  worst: (axis: string, rmsDeg: string): string => `${axis} ${rmsDeg} deg`,
  measured: (run: number | null): string => (run === null ? 'measured' : `measured, run ${run}`),
  kept: (run: number | null): string => (run === null ? 'in the log' : `in the log, run ${run}`),
  same: (as: string): string => `same bytes as ${as}`,
  stopped: 'stopped',
  summary: (found: number, parts: readonly string[]): string =>
    `${found === 1 ? '1 clip' : `${found} clips`}: ${parts.join(', ')}.`,
  counts: {
    measured: (count: number): string => `${count} measured`,
    kept: (count: number): string => `${count} in the log already`,
    same: (count: number): string => `${count} the same as another`,
    failed: (count: number): string => `${count} failed`,
    stopped: (count: number): string => `${count} stopped`,
    left: (count: number): string => `${count} not begun`,
  },
  nothing: 'No clip came.',
  unnamed: (count: number, first: string): string =>
    `${count === 1 ? `1 file holds what clips hold, but has no ending of clips: "${first}"` : `${count} files hold what clips hold, but have no ending of clips, such as "${first}"`}. Give ${count === 1 ? 'it' : 'each'} an ending like .mov or .mp4, or name ${count === 1 ? 'it' : 'each'} by itself.`,
  reports: (folder: string): string => `Reports: ${folder}`,
  passedBy: (count: number, options: readonly string[]): string =>
    `${options.join(', ')} did nothing for the ${count === 1 ? 'clip that the log has' : `${count} clips that the log has`} already. "trundle log set" writes on a sheet, "trundle report" makes a report anew, and --again measures anew.`,
  interrupted: (left: number): string =>
    `Stopped on request; ${left === 1 ? '1 clip is' : `${left} clips are`} not measured. Run the same again to go on: what is in the log is not measured twice.`,
} as const;
