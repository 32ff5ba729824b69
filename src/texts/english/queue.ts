/** Sentences about the queue that many machines measure from. */
export const queueTexts = {
  lost: (where: string): string => `The connection to Redis at ${where} broke; it is being made anew.`,
  backAgain: (where: string): string => `Redis at ${where} is there again.`,
  mayForget: (where: string, policy: string): string =>
    `Redis at ${where} throws entries away when its memory is full (maxmemory-policy ${policy}), and clips with them; set it to noeviction.`,
  stretch: (clip: string, number: number, count: number): string => `${clip}, stretch ${number} of ${count}`,
  joining: (clip: string): string => `${clip}, its stretches joined`,
  takenOver:
    'A clip that this worker had went to another one meanwhile, since it was not heard of in time; what was measured counts once.',
  endedTooOften:
    'Every worker that had this clip ended in the middle of it; measure it by itself to see why, and order it again when it is mended.',
  draining:
    'No new clip is begun. What is under way is finished; interrupt again to give it back to the queue.',
  withWaitOnly: (option: string): string =>
    `"${option}" is about results, which trundle queue add takes only with --wait; add --wait, or give it to trundle queue collect.`,
  heldBack: (toCome: number, measured: number): string =>
    `${toCome} ${toCome === 1 ? 'clip waits' : 'clips wait'}${measured > 0 ? ` and ${measured} ${measured === 1 ? 'is' : 'are'} to be collected` : ''}; the next is added when there is room.`,
  heldByMeasured: (measured: number): string =>
    `${measured} measured ${measured === 1 ? 'clip is' : 'clips are'} to be collected before more is added; trundle queue collect does that.`,
  addingStopped: (added: number, all: number): string =>
    `Stopped on request; ${added} of ${all} ${all === 1 ? 'clip' : 'clips'} ${added === 1 ? 'was' : 'were'} added. The same command adds the rest.`,
  takesNoFiles: (option: string): string =>
    `"${option}" leads to a folder that takes no files; give another one, or allow this user to write to it.`,
  sentPage: (where: string, type: string): string =>
    `"${where}" is no clip: the server sent ${type}; give the address of the clip itself, which the server gives out without asking who is there.`,
  leftToOthers: (clip: string, why: string): string => `${clip}: left to other workers. ${why}`,
  leftBy: (worker: string): string => `left to others by ${worker}`,
  workDone: (clips: string, failed: number, returned: number, left: number): string =>
    `${clips} measured, ${failed} failed, ${returned} given back${left > 0 ? `, ${left} left to others` : ''}.`,
  nobodyReads: (clips: string): string =>
    `No worker so far may read what is left, ${clips}; trundle queue status says why. Ctrl-C ends the waiting.`,
  diskFull: 'the disk is full',
  bytesCame: (came: number, all: number): string => `${came} of ${all} bytes came`,
  noByteFor: (seconds: number): string => `no byte for ${seconds} s`,
  serverAnswers: (status: number): string => `the server answers ${status}`,
  anotherPart: 'the server sends another part than was asked for',
} as const;
