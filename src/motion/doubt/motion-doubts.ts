/** The doubts of a clip from the signs of its pieces: one warning a kind, in words, the largest sign told. */
import type { Warning } from '../../run/index.js';
import { motionDoubtTexts } from '../../texts/index.js';
import type { DoubtSign } from './piece-signs.js';

/** From this change of focal length on it is a zoom: a focus that is pulled by hand breathes less over a pass. */
const ZOOM = 0.02;

/** The doubts; none for a clip without signs. */
export function motionDoubts(signs: readonly DoubtSign[]): Warning[] {
  const largest = (
    kind: 'slide' | 'focal' | 'hunting' | 'subject',
  ): { size: number; atS: number | null } | undefined =>
    signs.flatMap((sign) => (sign.kind === kind ? [sign] : [])).sort((a, b) => b.size - a.size)[0];
  const doubts: Warning[] = [];
  if (largest('slide'))
    doubts.push({ code: 'stabilised-in-camera', text: motionDoubtTexts.slidingPicture, atS: null });
  const focal = largest('focal');
  if (focal) {
    const percent = (100 * focal.size).toPrecision(focal.size < 0.01 ? 1 : 2);
    doubts.push(
      focal.size >= ZOOM
        ? { code: 'zoom-during-pass', text: motionDoubtTexts.zoom(percent), atS: focal.atS }
        : { code: 'focus-breathing', text: motionDoubtTexts.breathing(percent), atS: focal.atS },
    );
  } else if (largest('hunting')) {
    doubts.push({ code: 'focus-breathing', text: motionDoubtTexts.hunting, atS: null });
  }
  const subject = largest('subject');
  if (subject) {
    const text = motionDoubtTexts.subject(Math.round(100 * subject.size));
    doubts.push({ code: 'subject-dominates', text, atS: subject.atS });
  }
  const rows = signs.flatMap((sign) => (sign.kind === 'readout' ? [sign] : []))[0];
  if (rows) {
    const ms = (seconds: number): string => (1000 * seconds).toFixed(0);
    const text = motionDoubtTexts.readout(ms(rows.givenS), ms(rows.ci95S[0]), ms(rows.ci95S[1]));
    doubts.push({ code: 'rolling-artefacts', text, atS: null });
  }
  return doubts;
}
