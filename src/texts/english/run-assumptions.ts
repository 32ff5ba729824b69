/** What was taken of lens and sensor where the crew did not tell it, and how much it matters. Figures come printed, without their unit. */
import { aLens } from './words.js';

/** Lens and sensor. */
export const assumedLensTexts = {
  focalLength: {
    value: (mm: number): string => `${mm} mm lens`,
    matters: 'every angle scales with it: twice the focal length means half the degrees',
  },
  sensorWidth: {
    value: (mm: number): string => `${mm} mm wide (full frame)`,
    matters: 'every angle scales with it: a Super 35 sensor would give 31 % smaller angles',
  },
  upright: {
    name: 'sensor orientation',
    value: 'width along the height of the upright picture',
    matters: 'every angle would change by the aspect ratio if the clip was cropped to upright afterwards',
  },
  exactFocal: {
    name: 'focal length',
    ofLens: (mm: number): string => `exactly that of ${aLens(String(mm))}`,
    px: (px: number): string => `exactly ${px} px`,
  },
} as const;

/** Distortion of a wide lens. */
export const assumedDistortionTexts = {
  wideLens: {
    value: 'none',
    matters:
      'on a wide lens that bends straight lines pan and tilt may read a tenth too low and sideways shake far too high; "trundle lens" finds it',
  },
  range: (low: string, high: string): string => `(${low} to ${high})`,
  /** @param range null where the clip does not tell */
  none: (range: string | null): string => `none; by this clip k1 ${range ?? 'is not known'}`,
  found: (k1: string, range: string | null): string =>
    `k1 ${k1}, found in the clip${range === null ? '' : ` ${range}`}`,
  /** @param percent what the angles that stand change by within the range of k1; null where none stands */
  noneMatters: (percent: string | null): string =>
    `a lens that bends lines makes pan and tilt read low and sideways shake high; ${percent === null ? '' : `within this range the angles change by up to ${percent} %; `}"trundle lens" finds it`,
  partlyMatters:
    'the lens bends lines by more than that, and the figures are freed of it in part only; "trundle lens" finds it',
  foundMatters:
    'the figures are freed of it; "trundle lens" finds it once for all passes, higher terms included',
} as const;

/** Readout of the sensor. */
export const assumedReadoutTexts = {
  none: '0 ms',
  range: (lowMs: string, highMs: string): string => `(${lowMs} to ${highMs} ms)`,
  /** @param ms null where only the range is known */
  found: (ms: string | null, range: string | null): string =>
    `${ms === null ? '' : `${ms} ms, `}found in the clip${range === null ? '' : ` ${range}`}`,
  noneMatters:
    'a slow readout would turn pan and tilt into false lateral and vertical motion; this clip does not tell, so give it',
  foundMatters:
    'the figures are freed of it; a readout that is 1 ms off leaves a little of pan and tilt in lateral and vertical',
} as const;
