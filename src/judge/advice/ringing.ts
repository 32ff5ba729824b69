/**
 * Speeds in m/s at which something that repeats on the way (a wheel, joints, both axles) would meet the frequency at which the mount
 * rings, f = v / wavelength, and how much more the picture would shake by it, px of the delivery.
 *
 * The mount passes the shake of its foot on as `mountGain` says. A line of the floor or of a wheel is taken to keep its height;
 * roughness of waviness 2 grows in density in step with the speed. Own derivation.
 */
import { AXES, figure } from '../../run/index.js';
import { speedAdviceTexts, type Ringer } from '../../texts/index.js';
import { mountGain, mountOf, type RingingMount } from '../changes/mount-gain.js';
import type { MeasuredPass } from '../pass/measured-pass.js';

/** Damping taken where a mount was named by the crew and no peak shows how sharply it rings. */
const USUAL_DAMPING = 0.06;
/** Axles that move against each other by less than this share hardly ring the mount now: more would be a guess. */
const LEAST_AGAINST = 0.1;
/** Waves of the floor that lift one axle while the other falls: 2 L over an odd number. */
const ODD = [1, 3, 5] as const;
/** Shake that grows by less than this factor is no reason to keep off; nor one that stays below this many px. */
const LEAST_RISE = 1.3;
const LEAST_PX = 0.2;
const MOST_NAMED = 2;

/** A speed that rings the mount. */
export interface RingingSpeed {
  readonly speedMps: number;
  readonly by: Ringer;
  readonly mountHz: number;
  /** Shake of the picture by it now and then, px RMS of the delivery. */
  readonly nowPx: number;
  readonly thenPx: number;
}

interface SeenMount {
  readonly mount: RingingMount;
  /** Shake that it makes now, px of the clip; null where it was not seen. */
  readonly shiftPx: number | null;
}

/** Speeds of a range that ring the mount, the loudest first; none where no mount is known. @param nowMps of the pass */
export function ringingSpeeds(
  pass: MeasuredPass,
  nowMps: number,
  [lowMps, highMps]: readonly [number, number],
): RingingSpeed[] {
  const { rig, delivery, source, sections } = pass;
  const seen = seenMount(pass);
  if (seen === null) return [];
  const toDelivery = delivery.widthPx / source.widthPx;
  const { mount, shiftPx: mountPx } = seen;
  const mountHz = mount.freqHz;
  const found: RingingSpeed[] = [];
  const add = (by: RingingSpeed['by'], speedMps: number, shiftPx: number, rise: number): void => {
    const nowPx = shiftPx * toDelivery;
    const inRange = speedMps >= lowMps && speedMps <= highMps;
    if (inRange && rise >= LEAST_RISE && rise * nowPx >= LEAST_PX)
      found.push({ by, speedMps, mountHz, nowPx, thenPx: rise * nowPx });
  };
  for (const { cause, trueHz, shiftPx } of sections.spectrum.sources)
    if (cause === 'wheel' || cause === 'joint')
      add(cause, (mountHz / trueHz) * nowMps, shiftPx, mountGain(mount, mountHz) / mountGain(mount, trueHz));
  const { wheelbaseM } = rig;
  if (mountPx !== null && wheelbaseM !== undefined) {
    // The axles move against each other by the sine of half a turn per wheelbase over wavelength.
    const against = Math.abs(Math.sin((Math.PI * wheelbaseM * mountHz) / nowMps));
    for (const odd of ODD) {
      const speedMps = (2 * wheelbaseM * mountHz) / odd;
      add('axles', speedMps, mountPx, Math.sqrt(speedMps / nowMps) / Math.max(against, LEAST_AGAINST));
    }
  }
  return found.sort((a, b) => b.thenPx - a.thenPx || a.speedMps - b.speedMps);
}

/** The sentence with the speeds to keep off within a range, a little wider; nothing where none rings. */
export function speedsToKeepOff(
  pass: MeasuredPass,
  nowMps: number,
  [lowMps, highMps]: readonly [number, number],
): string {
  const named = ringingSpeeds(pass, nowMps, [0.95 * lowMps, 1.05 * highMps]).slice(0, MOST_NAMED);
  if (named.length === 0) return '';
  const { keepOff, ringing } = speedAdviceTexts;
  return keepOff(
    named.map(({ speedMps, by, mountHz, nowPx, thenPx }) =>
      ringing(figure(speedMps), by, figure(mountHz), figure(nowPx), figure(thenPx)),
    ),
  );
}

function seenMount({ rig, sections: { spectrum } }: MeasuredPass): SeenMount | null {
  const mount = mountOf(spectrum);
  if (mount !== null) {
    const source = spectrum.sources.find(({ cause }) => cause === 'mount');
    return { mount, shiftPx: source?.shiftPx ?? null };
  }
  if (rig.mountHz === undefined) return null;
  return { mount: { freqHz: rig.mountHz, damping: USUAL_DAMPING, axes: AXES }, shiftPx: null };
}
