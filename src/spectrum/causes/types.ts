/** What shakes the camera: one source for all axes that show the same frequency, and what may cause it; hertz, m/s, metres. */
import type { Axis } from '../../run/index.js';
import type { FoundPeak } from '../peaks/types.js';

/** What a source may be. A lamp is light that flickers, no motion. */
export type CauseName = 'wheel' | 'joint' | 'machine' | 'mount' | 'lamp' | 'unknown';

/** One peak on the axis that shows it. */
export interface Sighting {
  readonly axis: Axis;
  readonly peak: FoundPeak;
}

/** What is known beforehand of things that shake. */
export interface KnownCauses {
  /** Mean speed under way, m/s; null when it is not known: then only causes of constant frequency can be named. */
  readonly speedMps: number | null;
  /** Standard deviation of that speed, as a share of it. */
  readonly speedSdShare: number;
  readonly wheelDiameterM: number | null;
  /** Distance of joints: as given, or as the floor of this clip showed it. */
  readonly joint: {
    readonly spacingM: number;
    readonly sdShare: number;
    readonly source: 'given' | 'found';
  } | null;
  readonly machinesHz: readonly number[];
  /** Frequency at which the mount rings, when the crew knows it. */
  readonly mountHz: number | null;
  /** Frequencies at which flicker of lamps was seen in the light of the clip, folded, Hz. */
  readonly lampsHz: readonly number[];
}

/** The window on the pass. */
export interface ObservedBand {
  readonly durationS: number;
  readonly rateHz: number;
  readonly bandHz: readonly [number, number];
  readonly exposureS: number;
}

/** One explanation of a source. */
export interface Candidate {
  readonly cause: CauseName;
  /** Multiple of the wheel's turn or of the joints' beat; number of the given machine counted from 1; 1 otherwise. */
  readonly order: number;
  /** Frequency of the motion itself, before frames folded it; that of the peak when it was not. */
  readonly trueHz: number;
  /** 0..0.95. */
  readonly probability: number;
}

/** A series of sources at whole multiples of one frequency. */
export interface Harmonic {
  readonly family: number;
  readonly baseHz: number;
  readonly order: number;
}

/** One source of shake: peaks of any axes at the same frequency. */
export interface ShakeSource {
  readonly sightings: readonly Sighting[];
  readonly freqHz: number;
  readonly freqSdHz: number;
  /** "unknown" unless one cause is above 0.7 and nothing stands against naming it. */
  readonly cause: CauseName;
  /** Of the cause that is named, capped at 0.95; null when unknown. */
  readonly probability: number | null;
  /** The likeliest three, likeliest first. */
  readonly candidates: readonly Candidate[];
  /** Of the named cause, else of the peak. */
  readonly trueHz: number;
  readonly harmonic: Harmonic | null;
  /** Why no cause is named, as a plain sentence; null when one is. */
  readonly reason: string | null;
}

/** The speed that wheels and joints speak for. */
export interface SuggestedSpeed {
  readonly speedMps: number;
  readonly sdMps: number;
  /** Probability that sources of constant wavelength are there to tell it, 0..0.95. */
  readonly confidence: number;
  readonly fromSources: number;
}

/** The answer of the naming. */
export interface NamedCauses {
  readonly sources: readonly ShakeSource[];
  /** Null when nothing of constant wavelength was seen, or the speed is not known. Only a suggestion: no figure uses it. */
  readonly speed: SuggestedSpeed | null;
  /** Plain sentences on what limits the naming. */
  readonly notes: readonly string[];
}

/** What the test of two runs takes of this run. */
export interface RunWindow {
  /** Mean speed, m/s; null when it is not known. */
  readonly speedMps: number | null;
  readonly speedSdShare: number;
  readonly rateHz: number;
  readonly bandHz: readonly [number, number];
  readonly durationS: number;
  readonly wheelbaseM: number | null;
}

/** Another run of the same dolly, as the test of two runs takes it. */
export interface OtherRun extends RunWindow {
  readonly name: string;
  readonly sources: readonly {
    readonly freqHz: number;
    readonly freqSdHz: number;
    readonly axes: readonly Axis[];
  }[];
}

/** How one source behaves from one run to the other. */
export interface RunToRun {
  /** Frequency of its partner in the other run; null when it has none. */
  readonly otherHz: number | null;
  readonly behaves: 'constantFrequency' | 'constantWavelength' | 'neither' | 'open';
  /** Of what it is said to be; null when open. */
  readonly probability: number | null;
  /** Frequency of the motion itself, on which both frame rates agree; null when open, and when the rates are too alike to tell. */
  readonly trueHz: number | null;
  /** Why it is open or gone, as a plain sentence; null otherwise. */
  readonly reason: string | null;
}
