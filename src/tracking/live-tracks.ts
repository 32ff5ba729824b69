/** The tracks that are alive in the latest frame, and the log of everything observed; positions in analysis pixels. */
import { median, quantile, seededRandom } from '../numerics/index.js';
import type { Points } from '../vision/index.js';
import type { Positions } from './buckets.js';
import { LIFE_FRAMES } from './options.js';
import type { Followed, TrackPoints } from './protocol.js';
import { scaleRate } from './scale-change.js';

/** Every observation in the order it was made (by frame), as growing columns. */
export interface ObservationLog {
  readonly track: number[];
  readonly frame: number[];
  readonly xPx: number[];
  readonly yPx: number[];
}

/** How the tracks moved in one step. */
export interface StepFacts {
  /** Tracks that were followed. */
  readonly followed: number;
  /** Tracks that came through the check, including those that then ended by age. */
  readonly kept: number;
  /** Median length of the steps, px; NaN when none was kept. */
  readonly shiftPx: number;
  /** Length that 90 % of the steps stay below, px; NaN when none was kept. */
  readonly reachPx: number;
  /** Median step along x and y, px; NaN when none was kept. */
  readonly stepXPx: number;
  readonly stepYPx: number;
  /** Growth of the picture in this step, see `scaleRate`; 0 when it cannot be told. */
  readonly scaleRate: number;
}

interface Track {
  readonly id: number;
  readonly lastFrame: number;
  hasTemplate: boolean;
  x: number;
  y: number;
  /** Last step, px; null before the first. */
  dx: number | null;
  dy: number | null;
}

/** Mixes the frame number into the seed, so that neighbouring frames do not draw neighbouring sequences. */
function frameSeed(seed: number, frame: number): number {
  return (Math.imul(seed, 0x9e3779b1) ^ Math.imul(frame + 1, 0x85ebca6b)) >>> 0;
}

function pointsOf(tracks: readonly Track[]): Points {
  return { xPx: Float32Array.from(tracks, (t) => t.x), yPx: Float32Array.from(tracks, (t) => t.y) };
}

/** Grows, moves and ends tracks; all randomness comes from the seed and the frame number. */
export class LiveTracks {
  readonly log: ObservationLog = { track: [], frame: [], xPx: [], yPx: [] };
  #tracks: Track[] = [];
  #born = 0;
  #usualDx = 0;
  #usualDy = 0;

  constructor(
    readonly seed: number,
    readonly ditherPx: number,
  ) {}

  get count(): number {
    return this.#tracks.length;
  }

  positions(): Positions {
    return { xPx: this.#tracks.map((t) => t.x), yPx: this.#tracks.map((t) => t.y) };
  }

  /** Numbers of the tracks; a number is never used twice. */
  ids(): Int32Array {
    return Int32Array.from(this.#tracks, (t) => t.id);
  }

  /** The tracks as points of the latest frame. */
  points(): Points {
    return pointsOf(this.#tracks);
  }

  /** The tracks that have no template yet; they count as having one from now on. */
  takeUntemplated(): TrackPoints {
    const bare = this.#tracks.filter((track) => !track.hasTemplate);
    for (const track of bare) track.hasTemplate = true;
    return { tracks: Int32Array.from(bare, (t) => t.id), points: pointsOf(bare) };
  }

  /** Says that the templates of all tracks are gone. */
  dropTemplates(): void {
    for (const track of this.#tracks) track.hasTemplate = false;
  }

  /** Where the next frame should hold them if each repeats its last step; new ones take the usual step of the others. */
  predictions(): Points {
    return {
      xPx: Float32Array.from(this.#tracks, (t) => t.x + (t.dx ?? this.#usualDx)),
      yPx: Float32Array.from(this.#tracks, (t) => t.y + (t.dy ?? this.#usualDy)),
    };
  }

  /** Moves the tracks to where they were found in `frame`; the lost and the old end. */
  advance(frame: number, found: Pick<Followed, 'xPx' | 'yPx' | 'kept'>): StepFacts {
    const followed = this.#tracks.length;
    const x: number[] = [];
    const y: number[] = [];
    const dx: number[] = [];
    const dy: number[] = [];
    const next: Track[] = [];
    for (let i = 0; i < followed; i++) {
      if (!found.kept[i]) continue;
      const track = this.#tracks[i];
      const stepX = found.xPx[i] - track.x;
      const stepY = found.yPx[i] - track.y;
      x.push(track.x);
      y.push(track.y);
      dx.push(stepX);
      dy.push(stepY);
      Object.assign(track, { x: found.xPx[i], y: found.yPx[i], dx: stepX, dy: stepY });
      if (frame > track.lastFrame) continue;
      next.push(track);
      this.#note(track, frame);
    }
    this.#tracks = next;
    if (dx.length === 0) {
      return { followed, kept: 0, shiftPx: NaN, reachPx: NaN, stepXPx: NaN, stepYPx: NaN, scaleRate: 0 };
    }
    this.#usualDx = median(dx);
    this.#usualDy = median(dy);
    const shift = Float64Array.from(dx, (x, i) => Math.hypot(x, dy[i]));
    return {
      followed,
      kept: dx.length,
      shiftPx: median(shift),
      reachPx: quantile(shift, 0.9),
      stepXPx: this.#usualDx,
      stepYPx: this.#usualDy,
      scaleRate: scaleRate({ xPx: x, yPx: y, dxPx: dx, dyPx: dy }),
    };
  }

  /**
   * Starts tracks in `frame`, each moved by uniform dither: corners lie on whole pixels, so without it all tracks
   * would share one sub-pixel phase and their interpolation errors would add up instead of averaging out.
   */
  add(frame: number, starts: Positions): void {
    const random = seededRandom(frameSeed(this.seed, frame));
    const isFirst = this.#born === 0;
    for (let i = 0; i < starts.xPx.length; i++) {
      const x = starts.xPx[i] + this.ditherPx * (2 * random() - 1);
      const y = starts.yPx[i] + this.ditherPx * (2 * random() - 1);
      // The first crop would all end in one frame and leave no track that joins what is before to what comes after.
      const life = isFirst ? Math.round(LIFE_FRAMES * (1 / 3 + (2 / 3) * random())) : LIFE_FRAMES;
      // Positions are kept as the image engine sees them, in single precision.
      const track = {
        id: this.#born++,
        lastFrame: frame + life - 1,
        hasTemplate: false,
        x: Math.fround(x),
        y: Math.fround(y),
        dx: null,
        dy: null,
      };
      this.#tracks.push(track);
      this.#note(track, frame);
    }
  }

  #note(track: Track, frame: number): void {
    this.log.track.push(track.id);
    this.log.frame.push(frame);
    this.log.xPx.push(track.x);
    this.log.yPx.push(track.y);
  }
}
