/** What a split may be told, and the values it takes where it is not told. */
import type { DistortionReport } from './types.js';

/** Options of splitMotion; every one may be left out. */
export interface SplitOptions {
  /** Half-power frequency between intended move and vibration, Hz; default 0.8, raised for short clips. */
  readonly cutoffHz?: number | undefined;
  /** Length of the camera's path over the clip, metres; sets the metric scale. */
  readonly travelM?: number | undefined;
  /** Speed at which the dolly rolls once it is under way, m/s; sets the metric scale when travelM is not given. */
  readonly speedMps?: number | undefined;
  /** Seed of the samples that start the reconstruction; default 1. */
  readonly seed?: number | undefined;
  /** Whether frames were coded from one another; null or missing counts as yes, which raises the floors. */
  readonly interCoded?: boolean | null | undefined;
  /**
   * Width of the clip itself, px; default 1280. Coding errs in the clip's own pixels: on smaller clips it is worth more of
   * the picture. Larger clips are taken like 1280, for want of trials.
   */
  readonly sourceWidthPx?: number | undefined;
  /** Time in which the sensor reads a frame from top to bottom, seconds; 0 for a global shutter; looked for when missing. */
  readonly readoutS?: number | undefined;
  /** Noise of single tracks as the tracker found it, analysis px; parallax has to stand out from it. */
  readonly trackNoisePx?: number | null | undefined;
  /**
   * True when the distortion of the camera is what the lens is known to have, also where it is null; a wide lens of unknown
   * distortion is looked for in the clip. A camera with distortion counts as known anyhow.
   */
  readonly distortionGiven?: boolean | undefined;
  /** Told how much is done out of how much, in steps of no fixed size. */
  readonly onProgress?: ((done: number, total: number) => void) | undefined;
}

/** The defaults of SplitOptions and the fixed settings of the method; pixels are at a picture width of 960. */
export const SPLIT_DEFAULTS = {
  cutoffHz: 0.8,
  seed: 1,
  /** At least this many periods of the cut-off must fit the clip. */
  periodsInClip: 3,
  /** Left out of every statistic at each end. */
  trimS: 0.5,
  /** Expected noise per axis before the clip has told. */
  sigmaStartPx: 0.1,
  /** A reconstruction whose robust residual is larger than this is wrong. */
  worstSigmaPx: 0.2,
  /** ... and so is one that keeps a smaller share of the tracks; pictures normally keep 40-70 %. */
  leastKeptShare: 0.3,
  /** Shift shared by a sixth of the picture, from inter-frame coding; set on rendered clips, not measurable from one. */
  codingSigmaPx: 0.012,
  /** Width of the clips that it was set on. */
  codingWidthPx: 1280,
  /** Parallax over noise below which translation is not sought, and below which it is flagged. */
  parallaxNone: 3,
  parallaxSure: 10,
  /** Translation is refused above this floor (metric scale), or above this correlation of pan and lateral. */
  worstFloorM: 0.2e-3,
  worstCorrelation: 0.995,
} as const;

/** Options with every value filled in; widths in analysis pixels. */
export interface ResolvedSplit {
  readonly cutoffHz: number;
  readonly travelM: number | null;
  readonly speedMps: number | null;
  readonly seed: number;
  readonly interCoded: boolean;
  /** How much more of the picture coding errors are worth than on the clips they were set on, 1 or more. */
  readonly codingScale: number;
  /** Null when not known. */
  readonly readoutS: number | null;
  /** True when the crew told the readout; false when it is not known, or another piece of the clip has told it. */
  readonly readoutGiven: boolean;
  readonly distortionGiven: boolean;
  /** What another piece of the clip has told of the lens; null as long as none has. */
  readonly distortion: DistortionReport | null;
  /** 0 when not known. */
  readonly trackNoisePx: number;
  readonly onProgress: (done: number, total: number) => void;
}

/**
 * Fills in the options for a clip of `durationS` seconds.
 *
 * @throws RangeError when a number is not positive and finite (readoutS: not negative; seed: finite)
 */
export function resolveSplitOptions(options: SplitOptions, durationS: number): ResolvedSplit {
  const { cutoffHz, travelM, speedMps, sourceWidthPx, readoutS, seed = SPLIT_DEFAULTS.seed } = options;
  for (const [name, value] of Object.entries({ cutoffHz, travelM, speedMps, sourceWidthPx })) {
    if (value !== undefined && !(value > 0 && Number.isFinite(value))) {
      throw new RangeError(`${name} must be positive and finite, got ${value}`);
    }
  }
  if (!Number.isFinite(seed)) throw new RangeError(`seed must be finite, got ${seed}`);
  if (readoutS !== undefined && !(readoutS >= 0 && Number.isFinite(readoutS)))
    throw new RangeError(`readoutS must be finite and not negative, got ${readoutS}`);
  const lowest = durationS > 0 ? SPLIT_DEFAULTS.periodsInClip / durationS : 0;
  return {
    cutoffHz: Math.max(cutoffHz ?? SPLIT_DEFAULTS.cutoffHz, lowest),
    travelM: travelM ?? null,
    speedMps: speedMps ?? null,
    seed,
    interCoded: options.interCoded !== false,
    codingScale: Math.max(1, SPLIT_DEFAULTS.codingWidthPx / (sourceWidthPx ?? SPLIT_DEFAULTS.codingWidthPx)),
    readoutS: readoutS ?? null,
    readoutGiven: readoutS !== undefined,
    distortionGiven: options.distortionGiven === true,
    distortion: null,
    trackNoisePx: options.trackNoisePx ?? 0,
    onProgress: options.onProgress ?? (() => {}),
  };
}
