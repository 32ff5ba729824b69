/** What can be wrong with a made-up pass: wheels out of round, a mount that rings, machines that run, lamps that flicker. */
import type { AngularAxis, TranslationalAxis } from '../../run/index.js';

/** One wheel, both of an axle, or all four. */
export type WheelChoice = 'frontLeft' | 'frontRight' | 'rearLeft' | 'rearRight' | 'front' | 'rear' | 'all';

/** A wheel whose radius waves around its rim. */
export interface WheelLobe {
  readonly wheel: WheelChoice;
  /** Waves in one turn: 1 for a wheel off its centre, 2 for an oval one; whole. */
  readonly perTurn: number;
  /** Largest change of the radius. */
  readonly amplitudeMm: number;
  /** Where in the wave the wheel stands at time 0; the radius is largest at 0. */
  readonly phaseDeg: number;
}

/** A mount between deck and camera that rings: it adds g r^2 / (1 - r^2 + 2 i z r), r = f / f0, of the deck's angle to it. */
export interface MountOptions {
  /** f0. */
  readonly freqHz: number;
  /** z, share of the critical one. */
  readonly dampingRatio: number;
  /** g, share of the deck's angle that the resonance takes up. */
  readonly gain: number;
  readonly axes: readonly ('pitch' | 'roll')[];
}

/** A motor, fan or gear that shakes the camera at one exact frequency. */
export interface MachineOptions {
  readonly freqHz: number;
  /** Amplitude (not RMS) of each axis, as the camera really moves: the shutter takes its share later. */
  readonly amplitudeDeg: Readonly<Record<AngularAxis, number>>;
  readonly amplitudeMm: Readonly<Record<TranslationalAxis, number>>;
  readonly phaseDeg: number;
}

/** Lamps on the mains: the light is 1 + depth sin(2 pi f t). */
export interface LampOptions {
  /** Of the light: twice that of the mains. */
  readonly freqHz: number;
  /** 0..1. */
  readonly depth: number;
}

/** Every field that has a default may be left out. */
export type PartialWheelLobe = Partial<WheelLobe> & Pick<WheelLobe, 'amplitudeMm'>;
export type PartialMount = Partial<MountOptions> & Pick<MountOptions, 'freqHz'>;
export type PartialLamps = Partial<LampOptions> & Pick<LampOptions, 'freqHz'>;
export type PartialMachine = Pick<MachineOptions, 'freqHz'> &
  Partial<Pick<MachineOptions, 'phaseDeg'>> & {
    readonly amplitudeDeg?: Partial<MachineOptions['amplitudeDeg']>;
    readonly amplitudeMm?: Partial<MachineOptions['amplitudeMm']>;
  };
