/**
 * The split of a clip too long to be held at once: its stretches are solved one by one, each leaves its path behind, and the figures
 * come from the joined path. Memory grows by the few numbers a frame that a path holds, not by the points that were followed.
 */
import type { Camera } from '../../optics/index.js';
import type { Warning } from '../../run/index.js';
import { motionWarningTexts, unmeasuredTexts } from '../../texts/index.js';
import type { TrackTable } from '../../tracking/index.js';
import { solvePath, type ClipPath, type SolvedPath } from '../clip-path.js';
import { resolveSplitOptions, type SplitOptions } from '../options.js';
import { motionOfPath } from '../split-motion.js';
import type { DistortionReport, Motion } from '../types.js';
import { unmeasuredMotion } from '../unmeasured.js';
import { joinStretches } from './join-stretches.js';

/** Stretches that hold must cover at least this share of the frames, as the pieces of one must. */
const LEAST_HELD_SHARE = 1 / 3;

/** What stretches have shown of the camera, for those that are solved after them; null where none has. */
export interface CameraShown {
  readonly distortion: DistortionReport | null;
  /** Time in which the sensor reads a frame, seconds. */
  readonly readoutS: number | null;
}

/** Of the camera before any stretch is solved. */
export const NOTHING_SHOWN: CameraShown = { distortion: null, readoutS: null };

/** A stretch once it is solved; it holds some numbers a frame and none a track. */
export interface SolvedStretch {
  /** Stamps of its frames, seconds. */
  readonly timeS: Float64Array;
  /** Null when it cannot be measured. */
  readonly path: ClipPath | null;
  /** Why it cannot; null when it can. */
  readonly why: Extract<SolvedPath, { path: null }>['why'] | null;
}

/** Takes the stretches of a clip in order of time, and makes one motion of them. */
export class StretchSplitter {
  readonly #paths: ClipPath[] = [];
  readonly #leftOut: Warning[] = [];
  /** Stamps of the frames of all stretches, each once. */
  readonly #stampS: number[] = [];
  #why: NonNullable<SolvedStretch['why']> = 'tooLittle';
  #shown: CameraShown;

  /**
   * @param camera the camera at the analysis size, the same for all stretches; see `splitMotion`
   * @param options as for `splitMotion`; what is known of the single stretch is told with it
   * @param shown what other stretches of the clip have shown of the camera
   */
  constructor(
    private readonly camera: Camera,
    private readonly options: Omit<SplitOptions, 'trackNoisePx' | 'interCoded' | 'onProgress'>,
    shown: CameraShown = NOTHING_SHOWN,
  ) {
    this.#shown = shown;
  }

  /** What is known of the camera so far from the stretches that were taken. */
  get shown(): CameraShown {
    return this.#shown;
  }

  /**
   * Solves a stretch and forgets its tracks; nothing is taken of it.
   *
   * @param table its tracks; shares some seconds of frames with the stretch before it, with the same time stamps
   * @throws RangeError as `splitMotion` does
   */
  solve(
    table: TrackTable,
    told: Pick<SplitOptions, 'trackNoisePx' | 'interCoded' | 'onProgress'>,
  ): SolvedStretch {
    const { timeS, frameCount } = table;
    const settings = resolveSplitOptions(
      { ...this.options, ...told },
      frameCount > 1 ? timeS[frameCount - 1] - timeS[0] : 0,
    );
    const readoutS = settings.readoutS ?? this.#shown.readoutS;
    const solved = solvePath(table, this.camera, { ...settings, ...this.#shown, readoutS });
    return { timeS, path: solved.path, why: solved.path === null ? solved.why : null };
  }

  /** Takes the next stretch. */
  take({ timeS, path, why }: SolvedStretch): void {
    const latestS = this.#stampS.at(-1) ?? -Infinity;
    for (const stampS of timeS) if (stampS > latestS) this.#stampS.push(stampS);
    if (path === null) {
      this.#why = why ?? this.#why;
      if (timeS.length > 0)
        this.#leftOut.push({
          code: 'motion-stretch-left-out',
          text: motionWarningTexts.stretchLeftOut(timeS[0].toFixed(1), timeS[timeS.length - 1].toFixed(1)),
          atS: timeS[0],
        });
      return;
    }
    this.#paths.push(path);
    // The first stretch that shows the readout or the lens shows it for all that follow, as with the pieces of one.
    this.#shown = {
      distortion: this.#shown.distortion ?? path.distortion,
      readoutS: this.#shown.readoutS ?? path.readout.readoutS,
    };
  }

  /**
   * The motion of the whole clip; of a clip that cannot be measured the axes are `notObservable`, with the reason.
   *
   * @param interCoded whether frames were coded from one another; see SplitOptions
   */
  finish(interCoded: boolean | null): Motion {
    const stampS = Float64Array.from(this.#stampS);
    const frames = stampS.length;
    const settings = resolveSplitOptions(
      { ...this.options, interCoded },
      frames > 1 ? stampS[frames - 1] - stampS[0] : 0,
    );
    const nothing = (why: string): Motion =>
      unmeasuredMotion(
        { timeS: stampS, frameCount: frames, obsFrame: new Int32Array(0) },
        this.camera,
        settings,
        why,
      );
    if (this.#paths.length === 0) return nothing(unmeasuredTexts[this.#why]);
    const path = joinStretches(this.#paths);
    if (path.timeS.length < LEAST_HELD_SHARE * frames) return nothing(unmeasuredTexts.noOnePath);
    const whole = { ...path, warnings: [...this.#leftOut, ...path.warnings] };
    const motion = motionOfPath(whole, this.camera, settings, this.options.cutoffHz);
    return typeof motion === 'string' ? nothing(motion) : motion;
  }
}
