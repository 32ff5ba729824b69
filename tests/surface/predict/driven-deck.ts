/** Deck series of passes driven straight over made-up tracks by any setup: what predictions are held against. */
import { fourthDifferenceSmooth, gaussianRandom, rms, seededRandom } from '../../../src/numerics/index.js';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { axlePath, SPACING_M, type FloorTracks } from '../support/made-up-floor.js';

export interface Drive {
  readonly speedMps: number;
  readonly wheelbaseM: number;
  readonly wheelRadiusM: number;
  readonly patchM: number;
  readonly runLengthM: number;
}

export const RATE_HZ = 25;
export const EXPOSURE_S = 0.02;
export const CUTOFF_HZ = 0.8;
export const TRACK_WIDTH_M = 0.4;
/** The rear axle starts here, metres into the tracks. */
export const HEAD_M = 0.3;
const SUBSTEPS = 8;
const RAD_PER_MDEG = Math.PI / 180e3;
const PITCH_SD = RAD_PER_MDEG;
const ROLL_SD = 1.2 * RAD_PER_MDEG;
const HEAVE_SD = 5e-5;

/** Raw series of one column per deck channel, one value per frame. */
export interface DrivenDeck {
  readonly pitchRad: Float64Array;
  readonly heaveM: Float64Array;
  readonly rollRad: Float64Array;
}

/** Drives the tracks once; no noise. */
export function driven(tracks: FloorTracks, drive: Drive): DrivenDeck {
  const left = axlePath(tracks.left, drive.wheelRadiusM, drive.patchM);
  const right = axlePath(tracks.right, drive.wheelRadiusM, drive.patchM);
  const n = 1 + Math.floor((drive.runLengthM / drive.speedMps) * RATE_HZ);
  const mean = left.map((value, i) => (value + right[i]) / 2);
  const difference = left.map((value, i) => value - right[i]);
  const column = (track: Float64Array, aheadM: number): Float64Array =>
    Float64Array.from({ length: n }, (_, i) => {
      let sum = 0;
      for (let k = 0; k < SUBSTEPS; k++) {
        const t = i / RATE_HZ + ((k + 0.5) / SUBSTEPS - 0.5) * EXPOSURE_S;
        sum += heightAt(track, HEAD_M + aheadM + drive.speedMps * t);
      }
      return sum / SUBSTEPS;
    });
  const rear = column(mean, 0);
  const front = column(mean, drive.wheelbaseM);
  const rearD = column(difference, 0);
  const frontD = column(difference, drive.wheelbaseM);
  return {
    pitchRad: rear.map((value, i) => (front[i] - value) / drive.wheelbaseM),
    heaveM: rear.map((value, i) => (front[i] + value) / 2),
    rollRad: rearD.map((value, i) => (frontD[i] + value) / (2 * TRACK_WIDTH_M)),
  };
}

/** RMS in the vibration band, the half second at each end left out. */
export function vibrationRms(values: Float64Array): number {
  const smooth = fourthDifferenceSmooth(values, RATE_HZ, CUTOFF_HZ);
  const trim = Math.round(RATE_HZ / 2);
  return rms(values.map((value, i) => value - smooth[i]).slice(trim, values.length - trim));
}

/** The deck as a clip would measure it, noise of 1 mdeg pitch, 1.2 mdeg roll and 0.05 mm heave added. */
export function measuredDeck(deck: DrivenDeck, drive: Drive, seed: number): RolledDeck {
  const gaussian = gaussianRandom(seededRandom(seed));
  const noisy = (values: Float64Array, sd: number) => ({
    values: values.map((value) => value + sd * gaussian()),
    noiseSd: sd,
    leastNoiseSd: sd,
  });
  const n = deck.pitchRad.length;
  return {
    rateHz: RATE_HZ,
    cutoffHz: CUTOFF_HZ,
    exposureS: EXPOSURE_S,
    wheelbaseM: drive.wheelbaseM,
    frontAheadM: drive.wheelbaseM,
    trackWidthM: TRACK_WIDTH_M,
    timeS: Float64Array.from({ length: n }, (_, i) => i / RATE_HZ),
    rearM: Float64Array.from({ length: n }, (_, i) => (i / RATE_HZ) * drive.speedMps),
    pitchRad: noisy(deck.pitchRad, PITCH_SD),
    heaveM: noisy(deck.heaveM, HEAVE_SD),
    rollRad: noisy(deck.rollRad, ROLL_SD),
  };
}

function heightAt(track: Float64Array, x: number): number {
  const place = x / SPACING_M;
  const i = Math.max(0, Math.min(track.length - 2, Math.floor(place)));
  return track[i] + (track[i + 1] - track[i]) * (place - i);
}
