/** What the microphone adds: lines of the sound itself and beats of its loudness, hertz and seconds. */
export type { SoundSamples } from '../../footage/index.js';

/** One tone, or one rate at which the loudness beats. */
export interface HeardLine {
  readonly freqHz: number;
  readonly freqSdHz: number;
  /** rho over its background, as for peaks of the picture. */
  readonly strength: number;
  /** tone: in the sound itself; beat: in the loudness of one of its bands. */
  readonly kind: 'tone' | 'beat';
}

/** What was heard in the range that was measured. */
export interface Heard {
  /** Tones, then beats, each lowest first. */
  readonly lines: readonly HeardLine[];
  /** Highest frequency of tones and of beats that can be told. */
  readonly toneTopHz: number;
  readonly beatTopHz: number;
  /** Mean level, dB below full scale (0 is a square wave at full scale); -Infinity never: digital silence is -120. */
  readonly levelDb: number;
  /** Plain sentence where nothing can be told (silent, clipped, too short); null otherwise. */
  readonly refusal: string | null;
}

/** What the sound says of one peak of the picture: the motion that it knows at one of the frequencies that fold onto the peak. */
export interface SoundSays {
  /** Frequency of the motion, Hz. */
  readonly trueHz: number;
  readonly kind: 'tone' | 'beat';
  /** Probability that this is what hides behind the peak, 0..0.95. */
  readonly probability: number;
}
