/**
 * Doubts: warnings that say why figures may be wrong although the clip could be measured.
 *
 * A doubt does not change the grade, since a sign is no proof; it stands beside the verdict wherever a verdict is shown, not only in
 * the list of warnings.
 */
import type { Warning } from './document.js';

/** Codes of doubts, those that weigh most first. */
export const DOUBT_CODES = [
  /** What is seen looks like shake that was taken out in the camera: the figures are of what was left. */
  'stabilised-in-camera',
  /** The focal length changed during the pass. */
  'zoom-during-pass',
  /** The picture grows and shrinks with the focus. */
  'focus-breathing',
  /** Something that moves by itself holds much of the picture. */
  'subject-dominates',
  /** Rows that were read one after the other bend the picture more than the figures can be freed of. */
  'rolling-artefacts',
  /** The exposure changed during the pass. */
  'exposure-change',
  /** So few bits that fine shake is not in the file. */
  'heavy-compression',
  /** The clip ends earlier than it says: what was rolled past that is not in the figures. */
  'clip-truncated',
  /** Frames within the clip cannot be read. */
  'clip-damaged',
] as const;

/** The code of a doubt. */
export type DoubtCode = (typeof DOUBT_CODES)[number];

/** The doubts among warnings, those that weigh most first. */
export function doubtsAmong(warnings: readonly Warning[]): readonly Warning[] {
  return DOUBT_CODES.flatMap((doubt) => warnings.filter(({ code }) => code === doubt));
}
