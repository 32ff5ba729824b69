/**
 * The queue over Redis: clips that many machines measure together, and one machine that keeps the log. Only this room knows the engine,
 * and only `trundle queue` loads this room.
 */
export { clipRulesOf, folderOf, originOf, type ClipRules } from './clip-rules.js';
export * from './coordinator.js';
export { keepPlace, runInLog, type Collected, type KeepPlace } from './keep-measured.js';
export { queueNameOf, USUAL_QUEUE } from './names.js';
export { FULL_AGAIN_MS } from './patience.js';
export { fetchClip, shownUrl } from './fetch-clip.js';
export {
  ADDRESS_VARIABLE,
  redisAddressOf,
  shownAddress,
  USUAL_ADDRESS,
  type RedisAddress,
} from './redis-address.js';
export { readFailure, type ToldFailure } from './failures.js';
export { isAddress, orderOf, type OrderedClip } from './order.js';
export { shownClip, type QueuedClip, type QueueStatus, type WorkProgress } from './status.js';
export { verdictWord } from './verdict-word.js';
export { USUAL_LOCK_MS, work, type WorkEvent, type WorkOptions, type WorkSummary } from './work.js';
