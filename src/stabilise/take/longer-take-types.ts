/** What is known of a test pass, and what is foretold for takes of other lengths: seconds, frames, per cent of the width. */

/** A run of frames: `from` is the first, `to` the one after the last. */
export interface FrameSpan {
  readonly from: number;
  readonly to: number;
}

/** A sudden event, such as a joint under the wheels. */
export interface Hit {
  /** The frames it shakes, first axle first; one span for each axle that was seen to pass. */
  readonly spans: readonly FrameSpan[];
}

/** What the prediction needs of a clip. */
export interface TestPass {
  /** Crop of each frame, fraction of the width, length n. */
  readonly cropFraction: Readonly<Float64Array>;
  readonly rateHz: number;
  /** How often per second the vibration that decides the crop crosses zero upwards. */
  readonly upCrossingsHz: number;
  /** Series of length n in which hits are looked for, each in a unit of its own: pan, tilt, roll. */
  readonly vibration: readonly Readonly<Float64Array>[];
  /** Hits known from elsewhere, such as a list of joints; none are looked for then. */
  readonly hits?: readonly Hit[] | undefined;
  /** Time from the first axle's kick to the second's, when wheelbase and speed are known. */
  readonly echoS?: number | undefined;
  /** Set when the hits are the joints of a floor laid at one spacing: their number in a take is then known. */
  readonly joints?: { readonly spacingM: number; readonly speedMps: number } | undefined;
}

/** Why there is no bound for a take. */
export interface TakeRefusal {
  /** shortTest: below 5 s; farReach: beyond twelve times the test; fewPeaks: fewer than 5 independent peaks. */
  readonly code: 'shortTest' | 'farReach' | 'fewPeaks';
  /** Half a sentence that follows "because". */
  readonly why: string;
}

/** The crop of one length of take, per cent of the width, and how far it can be trusted. */
export interface CropForecast {
  readonly takeS: number;
  readonly medianPercent: number | null;
  /** 95 of 100 such takes need less; 100 means that nothing would be left of the picture. */
  readonly upper95Percent: number | null;
  /** Hits are rare in the test (fewer than three, or than one in six seconds): a true bound may lie higher. */
  readonly atLeast: boolean;
  /** Null when there is a bound. */
  readonly refused: TakeRefusal | null;
}

/** What a longer or shorter take elsewhere on the same kind of floor will need. */
export interface LongerTake extends CropForecast {
  /** Chance, 0..1, that such a take needs more crop than this clip did. */
  readonly chanceExceeds: number;
  /** Where the test holds no hit: as many may come in such a take unseen so far (95 %), of unknown height; else null. */
  readonly unseenHitsAtMost: number | null;
}

/** What the test's own stretch will need when it is rolled again. */
export interface SameStretch {
  /** Crop of the test. */
  readonly medianPercent: number;
  /** 95 of 100 repeats of the same length need less. */
  readonly upper95Percent: number;
  /** Takes that begin with the stretch of the test and go on over floor not seen yet. */
  readonly longer: readonly CropForecast[];
}

/** Hits of a test pass. */
export interface HitsSeen {
  /** Events; the passing of both axles over one joint counts once. */
  readonly seen: number;
  readonly list: readonly Hit[];
}

/** All that one test pass foretells. */
export interface TakeForecast {
  readonly takes: readonly LongerTake[];
  readonly again: SameStretch;
  readonly hits: HitsSeen;
}
