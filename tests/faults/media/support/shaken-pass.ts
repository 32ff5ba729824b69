/**
 * The pass that the faults are made of: 1.6 s of a travel at 25 frames/s, small and coded frame by frame, rolled by a sine
 * whose size and frequency are known.
 */
import path from 'node:path';
import { clipFolder, makeClip } from '../../../footage/made-clips.js';
import { madeUpClip } from '../../../support/made-up-clip.js';

/** What FFmpeg rolls the pictures by. */
export const ROLL = { amplitudeRad: 0.004, freqHz: 6 } as const;
/** Its RMS. */
export const ROLL_RMS_DEG = (ROLL.amplitudeRad / Math.SQRT2) * (180 / Math.PI);
export const FPS = 25;
export const FRAMES = 40;
/** Coded frame by frame and nearly without loss. */
export const X264: readonly string[] = [
  ...['-c:v', 'libx264', '-preset', 'ultrafast', '-crf', '8', '-g', '1', '-pix_fmt', 'yuv420p'],
];
/** Coded without loss, in whatever pixel format. */
export const FFV1: readonly string[] = ['-c:v', 'ffv1', '-level', '3', '-g', '1'];

/** A folder for the clips of one test file, with the pass in it. */
export interface FaultBench {
  /** A path in the folder. */
  readonly at: (name: string) => string;
  /** Makes a clip out of the pass: FFmpeg's options after its input. */
  readonly fromPass: (name: string, ...options: readonly string[]) => Promise<string>;
  /** The pass itself, to be made before it is used. */
  readonly pass: string;
  readonly makePass: () => Promise<string>;
}

/** The folder goes when the tests of the file end. */
export function faultBench(): FaultBench {
  const folder = clipFolder();
  const at = (name: string): string => path.join(folder, name);
  const pass = at('pass.mp4');
  const makePass = async (): Promise<string> => {
    const { clipFile } = await madeUpClip({
      name: 'small-lateral',
      durationS: 3,
      fps: FPS,
      widthPx: 640,
      heightPx: 360,
      move: 'lateral',
      speedMps: 0.2,
      focalLengthMm: 35,
    });
    // Rolled while it is a little too large, so that no corner comes in from outside.
    const filters = [
      'scale=212:120:flags=area',
      `rotate=a=${ROLL.amplitudeRad}*sin(2*PI*${ROLL.freqHz}*t):bilinear=1`,
      'crop=192:108',
    ];
    return makeClip(pass, '-i', clipFile, '-frames:v', String(FRAMES), '-vf', filters.join(','), ...X264);
  };
  const fromPass = (name: string, ...options: readonly string[]): Promise<string> =>
    makeClip(at(name), '-i', pass, ...options);
  return { at, fromPass, pass, makePass };
}
