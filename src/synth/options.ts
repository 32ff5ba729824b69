/** What a made-up pass is: scene, camera, move, vibration or deck, shutter, noise, coding. */
import type { AngularAxis, TranslationalAxis } from '../run/index.js';
import type {
  LampOptions,
  MachineOptions,
  MountOptions,
  PartialLamps,
  PartialMachine,
  PartialMount,
  PartialWheelLobe,
  WheelLobe,
} from './causes/options.js';
import type { SceneName } from './scene-list.js';

/** How the camera travels. */
export type Move = 'lateral' | 'arc' | 'pushIn' | 'static';

/** A narrow peak: its frequency and its share (0..1) of the axis' vibration power. */
export interface VibrationPeak {
  readonly freqHz: number;
  readonly share: number;
}

/** Vibration given axis by axis; RMS above 0.8 Hz over the frames of the clip, 0.5 s at each end left out. */
export interface VibrationOptions {
  readonly angularDegRms: Readonly<Record<AngularAxis, number>>;
  readonly translationMmRms: Readonly<Record<TranslationalAxis, number>>;
  /** Broad part: random sines between these frequencies. */
  readonly bandHz: readonly [number, number];
  readonly peaks: readonly VibrationPeak[];
}

/** Joints across the floor at even distances; each tile lies higher or lower than its neighbours by chance. */
export interface JointOptions {
  readonly spacingM: number;
  /** Standard deviation of the tiles' heights, each wheel track by itself. */
  readonly lippageMm: number;
  readonly gapWidthMm: number;
  readonly gapDepthMm: number;
  /** Place of the first joint, from the rear axle at time 0. */
  readonly firstAtM: number;
}

/** The wheel track that something lies under. */
export type TrackSide = 'left' | 'right' | 'both';

/** One lasting step of the floor, + up along the travel. */
export interface StepOptions {
  /** From the rear axle at time 0, along the travel. */
  readonly atM: number;
  readonly heightMm: number;
  readonly side: TrackSide;
}

/** One bump in the shape of a raised cosine; a negative height makes a hollow. */
export interface BumpOptions {
  /** Its middle, from the rear axle at time 0, along the travel. */
  readonly atM: number;
  readonly heightMm: number;
  readonly lengthMm: number;
  readonly side: TrackSide;
}

/** A floor: its displacement power spectral density and what lies on it. */
export interface FloorOptions {
  /** Gd(n0) in cubic metres at n0 = 0.1 cycles per metre, in the form of ISO 8608; 0 for a perfect plane. */
  readonly gdM3: number;
  readonly waviness: number;
  /** Wavenumber at which the two wheel tracks have lost their likeness: coherence falls as exp(-2 n / this). */
  readonly coherencePerM: number;
  readonly joints: JointOptions | null;
  readonly steps: readonly StepOptions[];
  readonly bumps: readonly BumpOptions[];
}

/** A rigid deck on two axles. */
export interface DeckOptions {
  readonly wheelbaseM: number;
  readonly trackWidthM: number;
  readonly wheelRadiusM: number;
  /** Length over which a wheel's contact averages the floor: a few millimetres for a hard wheel, 45 mm for a soft tyre. */
  readonly contactPatchM: number;
  /** Lens ahead of the middle between the axles. */
  readonly cameraOffsetM: number;
  /** Wheels out of round; none for true wheels. */
  readonly lobes: readonly WheelLobe[];
  /** A mount that rings; null for a rigid one. */
  readonly mount: MountOptions | null;
  readonly floor: FloorOptions;
}

/** A pass in full. */
export interface SynthOptions {
  readonly seed: number;
  readonly scene: SceneName;
  readonly durationS: number;
  readonly fps: number;
  /** Exact rate, for example "24000/1001". */
  readonly fpsFraction: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalLengthMm: number;
  readonly sensorWidthMm: number;
  readonly move: Move;
  readonly speedMps: number;
  /** Slow change of speed, as a share of it. */
  readonly speedWander: number;
  /** Slow pan and tilt of an operated head, amplitude; far below the vibration band. */
  readonly driftDeg: number;
  /** Lens against travel: 0 looks ahead, +90 to the right of it. */
  readonly lensAzimuthDeg: number;
  /** Distance of the point that an arc goes around. */
  readonly arcRadiusM: number;
  readonly cameraHeightM: number;
  readonly vibration: VibrationOptions;
  readonly deck: DeckOptions | null;
  readonly machines: readonly MachineOptions[];
  /** Null for steady light. */
  readonly lamps: LampOptions | null;
  /** Whether the clip has a sound track. */
  readonly sound: boolean;
  /** A figure that walks beside the camera, at this distance; null for none. */
  readonly subjectDistanceM: number | null;
  /** 0 for a global shutter. */
  readonly readoutMs: number;
  /** 0 for an instant. */
  readonly shutterAngleDeg: number;
  /** Instants that are averaged over the exposure; shake at f comes out within 1 % with 13 f times the exposure of them. */
  readonly motionSamples: number;
  /** Standard deviation, grey levels of 0..255. */
  readonly noiseGrey: number;
  /** Blur of the lens, standard deviation in pixels, up to 0.7. */
  readonly softnessPx: number;
  /** Light: 1 as drawn, 0.2 dark. */
  readonly brightness: number;
  /** Contrast around middle grey: 1 as drawn. */
  readonly contrast: number;
  readonly transfer: 'display' | 'log';
  /** Radial distortion k1; 0 for none. */
  readonly lensK1: number;
  readonly colour: boolean;
  readonly crf: number;
  readonly allIntra: boolean;
  /** Most B frames in a row; null for the encoder's choice. */
  readonly bFrames: number | null;
  /** Speed against size, in the encoder's words. */
  readonly preset: string;
}

/** Something under both tracks unless it says which. */
type Sided<T extends { readonly side: TrackSide }> = Omit<T, 'side'> & { readonly side?: TrackSide };

/** Every field may be left out, inside the groups too. */
export type PartialSynthOptions = Partial<
  Omit<SynthOptions, 'vibration' | 'deck' | 'machines' | 'lamps' | 'fps'> & { readonly fps: number | string }
> & {
  readonly vibration?: Partial<
    Omit<VibrationOptions, 'angularDegRms' | 'translationMmRms'> & {
      readonly angularDegRms: Partial<VibrationOptions['angularDegRms']>;
      readonly translationMmRms: Partial<VibrationOptions['translationMmRms']>;
    }
  >;
  readonly machines?: readonly PartialMachine[];
  readonly lamps?: PartialLamps | null;
  readonly deck?:
    | (Partial<Omit<DeckOptions, 'floor' | 'lobes' | 'mount'>> & {
        readonly lobes?: readonly PartialWheelLobe[];
        readonly mount?: PartialMount | null;
        readonly floor?: Partial<Omit<FloorOptions, 'joints' | 'steps' | 'bumps'>> & {
          readonly joints?: Partial<JointOptions> | null;
          readonly steps?: readonly Sided<StepOptions>[];
          readonly bumps?: readonly Sided<BumpOptions>[];
        };
      })
    | null;
};

/** Frames of the clip. */
export function frameCountOf(options: SynthOptions): number {
  return Math.max(1, Math.round(options.durationS * options.fps));
}

/** Time stamp of a frame, in seconds: frame 0 at 0, exact for fractions. */
export function frameTimeS(options: SynthOptions, frame: number): number {
  const [over, under = '1'] = options.fpsFraction.split('/');
  return (frame * Number(under)) / Number(over);
}
