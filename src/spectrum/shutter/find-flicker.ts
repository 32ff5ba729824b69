/**
 * Lamps that flicker, told from motion: a line in the light of the frames where frames fold the frequency of a lamp on the mains,
 * alike in all bands of the picture or rolling through them at the pace of the rows.
 */
import { fourthDifferenceGain } from '../../numerics/index.js';
import { exposureGain } from '../../optics/index.js';
import type { FrameLevels } from '../../tracking/index.js';
import type { PictureShake } from './false-motion.js';
import { placesOf, strongestLine, type LampLine } from './lamp-line.js';
import { lampsOnMains, largestDepth, type Lamp, type MainsHz } from './lamps.js';
import { LIGHT_CUTOFF_HZ, lightSeries } from './light-series.js';
import { lineHz, lightSpectrum, steppedPower, stretchS, type LightSpectrum } from './light-spectrum.js';

/** The limits of the search. */
export const FLICKER_DEFAULTS = {
  /** Slower flicker cannot be told from exposure drift, and shakes nothing: where vibration begins, Hz; and cycles in a stretch. */
  slowestHz: 0.8,
  fewestCycles: 3,
  /**
   * Chance that light without lamps shows one, over all places looked at, if light were noise of one colour. Measured on made-up light
   * that falls steeply with frequency, 5 to 20 s: 4 in 1000 with a known readout, 13 in 1000 without.
   */
  falseAlarm: 1e-3,
  /** Share of the line's power in the bands that must follow the phase of a lamp. */
  leastAlike: 0.5,
  /** Natural logarithm of how much brighter one end of a picture may be than the other, 15 times: see {@link FlickerOptions.shakes}. */
  brightnessRange: 2.7,
} as const;

/** What is known of the camera and of the lamps. */
export interface FlickerOptions {
  /** Null when it is only assumed: then no lamp is ruled out for what the shutter leaves of it. */
  readonly exposureS: number | null;
  /** Null when not known: 50 and 60 Hz are both looked for. */
  readonly mainsHz: MainsHz | null;
  /** 0 for a sensor that is read at once; null when not known: then any step from band to band is looked for. */
  readonly readoutS: number | null;
  /**
   * Lines in the motion. Motion past bright things
   * changes the light too, but in all bands alike by no more than the shift times the logarithm of brightest over darkest; what a
   * shake at that place could do itself is no lamp. None unless given.
   */
  readonly shakes?: readonly PictureShake[];
}

/** Light that flickers. */
export interface Flicker {
  /** Nominal frequency of the lamp's light: 100, 120, 50 or 60 Hz. */
  readonly lampHz: number;
  /** Where frames show it, as found, and its standard deviation. */
  readonly seenHz: number;
  readonly seenSdHz: number;
  /** Amplitude over mean of the grey level as coded, in per cent: (brightest - darkest) / (brightest + darkest). */
  readonly depthPercent: number;
  /** True where rows see the lamp at different times: bands that roll through the picture, a third of a cycle or more. */
  readonly inBands: boolean;
}

/**
 * Looks for flicker of lamps on the mains in the light of the frames.
 *
 * Slow changes are taken off, and stretches of at most 30 s transformed with one sine taper. Bands are averaged with the phase that
 * the rows of the sensor give a lamp, each weighted by how calm it is around that frequency. A lamp is claimed where that power
 * stands out of what is around it by more than chance allows, where most of the line's power in the bands has that phase, and
 * where shutter and shakes allow it. Of several the one that stands out most; twice the mains before the mains themselves where they
 * fall together. A line at any other frequency (windows and pillars passed by) is not looked at.
 *
 * @param levels not changed
 * @returns null when there is none, when frames fold it below 0.8 Hz, below three cycles or to half their rate (100 Hz at 25 frames/s
 *   stands still), and for a clip that is too short or keeps no beat
 * @remarks Own method.
 */
export function findFlicker(levels: FrameLevels, options: FlickerOptions): Flicker | null {
  const series = lightSeries(levels);
  if (series === null) return null;
  const light = lightSpectrum(series);
  const lamps = lampsOnMains(light.rateHz, options.mainsHz).filter((lamp) => isInBand(lamp, light));
  const places = lamps.reduce((sum, lamp) => sum + placesOf(lamp, light, options.readoutS), 0);
  if (places === 0) return null;
  const chance = FLICKER_DEFAULTS.falseAlarm / places;
  let best: LampLine | null = null;
  for (const lamp of lamps) {
    const line = strongestLine(lamp, light, options.readoutS, chance);
    if (line === null || !isLamp(line, light, options)) continue;
    if (best === null || (stands(line) > stands(best) && !isSameLine(line, best, light))) best = line;
  }
  return best === null ? null : flickerOf(best, light);
}

/** How far a line stands out. */
function stands({ power, noise }: LampLine): number {
  return power / noise;
}

/** True where nothing tells two lamps apart: one place, one phase from band to band. */
function isSameLine(a: LampLine, b: LampLine, light: LightSpectrum): boolean {
  return Math.abs(a.bin - b.bin) * light.binHz < lineHz(light) && a.stepRad === b.stepRad;
}

function isInBand({ seenHz }: Lamp, light: LightSpectrum): boolean {
  const { slowestHz, fewestCycles } = FLICKER_DEFAULTS;
  const lowestHz = Math.max(slowestHz, fewestCycles / stretchS(light));
  return seenHz >= lowestHz && seenHz <= light.rateHz / 2 - lineHz(light);
}

/** True where bands, shutter and shakes allow a lamp. */
function isLamp(line: LampLine, light: LightSpectrum, options: FlickerOptions): boolean {
  const { leastAlike, brightnessRange } = FLICKER_DEFAULTS;
  const { lamp, bin, power, noise } = line;
  if (power - noise < leastAlike * line.powerInBands) return false;
  const depth = depthOf(line, light);
  if (depth > largestDepth(lamp.lampHz, options.exposureS)) return false;
  // Bands at the pace of a known readout are beyond what a shake can do; with any pace to choose from they are not.
  if (options.readoutS !== null && turnsThroughPicture(line, light) >= ROLLING_TURNS) return true;
  const shakes = options.shakes ?? [];
  return !shakes.some(
    ({ freqHz, shiftShare }) =>
      Math.abs(freqHz - bin * light.binHz) < lineHz(light) && depth < brightnessRange * shiftShare,
  );
}

/** Bands are seen from here on: turns of the phase from top to bottom. */
const ROLLING_TURNS = 1 / 3;

/** Power over noise of a line under one sine taper, over its strength A^2 T / (2 S): (2 sqrt 2 / pi)^2. */
const LINE_OVER_STRENGTH = 8 / Math.PI ** 2;

/** Standard deviation of a line's place times T sqrt(strength): as measured for one sine taper (0.5), and a margin of 1.3. */
const PLACE_SD = 0.65;

/** Turns of the phase from the first row to one past the last. */
function turnsThroughPicture({ stepRad }: LampLine, { bandCount }: LightSpectrum): number {
  return (Math.abs(stepRad) * bandCount) / (2 * Math.PI);
}

/** Amplitude over mean, 0..: noise, high-pass, and the height of a band put right. */
function depthOf({ power, noise, bin, stepRad }: LampLine, light: LightSpectrum): number {
  const amplitude = Math.sqrt(Math.max(0, power - noise) / light.linePower);
  const highPass = fourthDifferenceGain(bin * light.binHz, light.rateHz, LIGHT_CUTOFF_HZ);
  return amplitude / (highPass * exposureGain(stepRad / (2 * Math.PI), 1));
}

/** The figures of a line that is a lamp. */
function flickerOf(line: LampLine, light: LightSpectrum): Flicker {
  const { lamp, bin, stepRad, weights, power, noise } = line;
  // A parabola through the logarithms about the top places it between bins.
  const beside = (at: number): number => Math.log(steppedPower(light, at, weights, stepRad));
  const [before, top, after] = [beside(bin - 1), Math.log(power), beside(bin + 1)];
  const bend = before - 2 * top + after;
  const shift = bend < 0 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) : 0;
  const strength = (power / noise - 1) / LINE_OVER_STRENGTH;
  return {
    lampHz: lamp.lampHz,
    seenHz: (bin + shift) * light.binHz,
    seenSdHz: PLACE_SD / (stretchS(light) * Math.sqrt(strength * light.stretches)),
    depthPercent: 100 * depthOf(line, light),
    inBands: turnsThroughPicture(line, light) >= ROLLING_TURNS,
  };
}
