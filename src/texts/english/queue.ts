/** Sentences about the queue that many machines measure from. */
export const queueTexts = {
  lost: (where: string): string => `The connection to Redis at ${where} broke; it is being made anew.`,
  backAgain: (where: string): string => `Redis at ${where} is there again.`,
  mayForget: (where: string, policy: string): string =>
    `Redis at ${where} throws entries away when its memory is full (maxmemory-policy ${policy}), and clips with them; set it to noeviction.`,
  full: (where: string): string =>
    `Redis at ${where} is full: its maxmemory is used up; make room with trundle queue collect, or give it more.`,
  fullHolds: (where: string): string =>
    `Redis at ${where} is full: its maxmemory is used up. Nothing is lost, and this goes on when there is room; trundle queue collect makes some.`,
  notYet: (where: string, why: string): string =>
    `Redis at ${where} is not there yet (${why}); waiting for it. Ctrl-C ends it.`,
  unreached: (where: string, why: string): string =>
    `Redis at ${where} cannot be reached (${why}); start it, or give its address with --redis or in TRUNDLE_REDIS.`,
  certificateUnknown: (where: string, why: string): string =>
    `Redis at ${where} has a certificate that nobody known to this machine vouches for (${why}); name the file of its authority, or of the certificate itself, in NODE_EXTRA_CA_CERTS.`,
  certificateOver: (where: string): string =>
    `Redis at ${where} has a certificate that has expired; renew it there, and look at the clock of this machine.`,
  certificateOfAnother: (where: string): string =>
    `Redis at ${where} has a certificate of another name; give the address by a name that stands in the certificate.`,
  perhapsPlain: (where: string, why: string): string =>
    `Redis at ${where} cannot be reached by an encrypted connection (${why}); where it is not encrypted its address begins with redis://.`,
  perhapsEncrypted: (where: string, why: string): string =>
    `Redis at ${where} broke the connection off (${why}); where it is encrypted its address begins with rediss://.`,
  stretch: (clip: string, number: number, count: number): string => `${clip}, stretch ${number} of ${count}`,
  joining: (clip: string): string => `${clip}, its stretches joined`,
  tooLong: (clip: string, frames: number, most: number): string =>
    `"${clip}" has ${frames} frames to be measured, more than the ${most} whose result the queue hands over; order parts of it with --in and --out.`,
  tooLarge: (clip: string): string =>
    `What was measured on "${clip}" is more than the queue hands over; order parts of it with --in and --out.`,
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
  heldByFull: (where: string): string =>
    `Redis at ${where} is full: its maxmemory is used up; the next is added when there is room. trundle queue collect makes some, and so does a larger maxmemory.`,
  passedBy: (count: number, options: readonly string[]): string =>
    `${options.join(', ')} did nothing for ${count === 1 ? '1 clip that is being measured or was' : `${count} clips that are being measured or were`}: "trundle log set" writes on a sheet that the log has, "trundle report" makes a report anew.`,
  put: {
    added: 'added',
    there: 'in the queue already',
    running: 'being measured already',
    measured: 'measured already; trundle queue collect takes it into the log',
    again: 'had failed; added again',
  },
  inLog: (run: number): string => `measured already with these settings; run ${run} of the log`,
  addingStopped: (added: number, all: number): string =>
    `Stopped on request; ${added} of ${all} ${all === 1 ? 'clip' : 'clips'} ${added === 1 ? 'was' : 'were'} added. The same command adds the rest.`,
  takesNoFiles: (option: string): string =>
    `"${option}" leads to a folder that takes no files; give another one, or allow this user to write to it.`,
  sentPage: (where: string, type: string): string =>
    `"${where}" is no clip: the server sent ${type}; give the address of the clip itself, which the server gives out without asking who is there.`,
  otherVersion: (there: string | null, here: string): string =>
    `It was ordered by ${there === null ? 'another version' : `version ${there}`} of the program, and this worker has ${here}; bring both to the same version, and add it again.`,
  noOrder:
    'What stands in the queue is no order of this program; take it off with trundle queue status --forget-failed.',
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
