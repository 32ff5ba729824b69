/**
 * The split of a clip too long to be held at once: its stretches are solved one by one, each leaves its path behind, and the figures
 * come from the joined path. Memory grows by the few numbers a frame that a path holds, not by the points that were followed.
 */
import type { Camera } from '../../optics/index.js';
import type { Warning } from '../../run/index.js';
import { motionWarningTexts, unmeasuredTexts } from '../../texts/index.js';
import type { TrackTable } from '../../tracking/index.js';
import { solvePath, type ClipPath, type SolvedPath } from '../clip-path.js';
import { resolveSplitOptions, type ResolvedSplit, type SplitOptions } from '../options.js';
import { motionOfPath } from '../split-motion.js';
import type { Motion } from '../types.js';
import { unmeasuredMotion } from '../unmeasured.js';
import { joinStretches } from './join-stretches.js';

/** Stretches that hold must cover at least this share of the frames, as the pieces of one must. */
const LEAST_HELD_SHARE = 1 / 3;

/** Takes the stretches of a clip in order of time, and makes one motion of them. */
export class StretchSplitter {
  readonly #paths: ClipPath[] = [];
  readonly #leftOut: Warning[] = [];
  /** Stamps of the frames of all stretches, each once. */
  readonly #stampS: number[] = [];
  #why: Extract<SolvedPath, { path: null }>['why'] = 'tooLittle';
  #found: Pick<ResolvedSplit, 'distortion'> & { readoutS: number | null } = {
    distortion: null,
    readoutS: null,
  };

  /**
   * @param camera the camera at the analysis size, the same for all stretches; see `splitMotion`
   * @param options as for `splitMotion`; what is known of the single stretch is told with it
   */
  constructor(
    private readonly camera: Camera,
    private readonly options: Omit<SplitOptions, 'trackNoisePx' | 'interCoded' | 'onProgress'>,
  ) {}

  /**
   * Solves the next stretch and forgets its tracks.
   *
   * @param table its tracks; shares some seconds of frames with the stretch before it, with the same time stamps
   * @throws RangeError as `splitMotion` does
   */
  add(table: TrackTable, told: Pick<SplitOptions, 'trackNoisePx' | 'interCoded' | 'onProgress'>): void {
    const { timeS, frameCount } = table;
    const latestS = this.#stampS.at(-1) ?? -Infinity;
    for (const stampS of timeS) if (stampS > latestS) this.#stampS.push(stampS);
    const settings = resolveSplitOptions(
      { ...this.options, ...told },
      frameCount > 1 ? timeS[frameCount - 1] - timeS[0] : 0,
    );
    const readoutS = settings.readoutS ?? this.#found.readoutS;
    const solved = solvePath(table, this.camera, { ...settings, ...this.#found, readoutS });
    if (solved.path === null) {
      this.#why = solved.why;
      if (frameCount > 0)
        this.#leftOut.push({
          code: 'motion-stretch-left-out',
          text: motionWarningTexts.stretchLeftOut(timeS[0].toFixed(1), timeS[frameCount - 1].toFixed(1)),
          atS: timeS[0],
        });
      return;
    }
    const { path } = solved;
    this.#paths.push(path);
    // The first stretch that shows the readout or the lens shows it for all that follow, as with the pieces of one.
    this.#found = {
      distortion: this.#found.distortion ?? path.distortion,
      readoutS: this.#found.readoutS ?? path.readout.readoutS,
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
