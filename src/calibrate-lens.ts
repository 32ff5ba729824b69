/**
 * The whole of `trundle lens` on one page: from the clip of a calibration board to focal length and distortion of the lens.
 *
 * footage -> crossings of the board -> views that differ -> fit, with the terms they carry -> how sure that is.
 */
import { findTools, probeClip, sharpestFrames, type ClipFacts, type Tools } from './footage/index.js';
import { describeLens, type LensCalibration } from './lens-calibration.js';
import {
  CALIBRATION_BOARD,
  boardCoverage,
  boardOutline,
  fewerTerms,
  isUsableView,
  lensUncertainty,
  meanReach,
  pickDifferentViews,
  termsFor,
  type BoardCrossings,
  type LensTerms,
  type PictureSize,
} from './optics/index.js';
import { median } from './numerics/index.js';
import { TrundleError } from './run/index.js';
import { startVision, type LensFit, type Vision } from './vision/index.js';

/** What to calibrate from. */
export interface LensRequest {
  /** Path of a clip of the board. */
  readonly clip: string;
  /** Active width of the sensor, to tell the focal length in millimetres too. */
  readonly sensorWidthMm?: number | undefined;
  /** Side of the printed squares, to tell how far away the board was; nothing else depends on it. */
  readonly squareM?: number | undefined;
}

/** Hooks of a calibration: progress and a way to stop it. */
export interface LensHooks {
  readonly onProgress?: (stage: 'look' | 'fit', done: number, total: number | null) => void;
  readonly signal?: AbortSignal;
  /** FFmpeg to use; looked for when missing. */
  readonly tools?: Tools;
}

/** Pictures are looked at no wider than this: finer detail costs time and adds little. */
const WIDEST_PX = 1920;
/** The clip is cut into this many stretches of time; the sharpest frame of each is looked at. */
const STRETCHES = 96;
const MOST_VIEWS = 30;
/** Fewer views than this leave no check of one by the others. */
const LEAST_VIEWS = 4;
/** Views whose board moved by less than this share of the width are one view. */
const LEAST_MOVE = 0.03;
/** A view with this many times the usual error, and more than so many px at 1920 wide, is left out. */
const OUTLYING = 2.5;
const OUTLYING_PX = 0.2;
/** A bad view spoils the fit that judges the others, so they are judged once more without it. */
const OUTLIER_ROUNDS = 2;
/** Usual error of a view, px at 1920 wide, from which no lens of this model filmed a flat board; good clips have 0.1 to 0.5. */
const POOR_FIT_PX = 3;
/** ... and from which such a clip is the likelier reason than a board that was never tilted. */
const DOUBTFUL_FIT_PX = 0.8;

/**
 * Calibrates the lens that filmed a clip of the printed board.
 *
 * @throws TrundleError `board-not-found`, `board-views-few`, `board-views-flat`, `board-fit-poor`, and what a clip that cannot be read gives
 */
export async function calibrateLens(request: LensRequest, hooks: LensHooks = {}): Promise<LensCalibration> {
  const { onProgress = () => {}, signal, tools = await findTools() } = hooks;
  const facts = await probeClip(request.clip, tools, signal);
  const vision = await startVision();

  // Footage: the sharpest frame of each stretch, and the crossings in it.
  const { views: seen, framesLookedAt, size } = await lookForBoard(facts, vision, tools, onProgress, signal);
  const usable = seen.filter((view) => isUsableView(CALIBRATION_BOARD, view));
  if (usable.length === 0) throw notFound(request.clip, seen);

  // Views that differ: a board held still is one view, however long.
  const outlines = usable.map((view) => boardOutline(CALIBRATION_BOARD, view));
  const picked = pickDifferentViews(usable, outlines, MOST_VIEWS, LEAST_MOVE * size.widthPx);
  if (picked.length < LEAST_VIEWS) throw tooFew(request.clip, picked.length);
  onProgress('fit', 0, null);
  const first = picked.map((i) => usable[i]);
  let views = first;
  let terms = termsFor(meanReach(boardCoverage(first, size)));
  let fit = fitted(vision, request.clip, views, terms, size);
  for (let round = 0; round < OUTLIER_ROUNDS; round++) {
    const kept = withoutOutliers(views, fit, size);
    if (kept.length === views.length) break;
    if (kept.length < LEAST_VIEWS) throw tooFew(request.clip, kept.length);
    views = kept;
    fit = fitted(vision, request.clip, views, terms, size);
  }

  const errorAt1920Px = (median(fit.viewRmsPx) * 1920) / size.widthPx;
  if (errorAt1920Px > POOR_FIT_PX) throw poorFit(facts, fit);

  // Distortion: as many terms as the views ask for.
  for (;;) {
    const uncertainty = lensUncertainty(CALIBRATION_BOARD, views, fit, terms, size);
    if (!uncertainty) throw tooFlat(request.clip);
    const cornerRadius = Math.hypot(size.widthPx, size.heightPx) / (2 * fit.focalPx);
    const fewer = fewerTerms(terms, fit.lens, uncertainty.lens, cornerRadius);
    if (fewer !== terms) {
      terms = fewer;
      fit = fitted(vision, request.clip, views, terms, size);
      continue;
    }
    const free = fitted(vision, request.clip, views, terms, size, true);
    const calibration = describeLens({
      request,
      facts,
      size,
      terms,
      fit,
      uncertainty,
      coverage: boardCoverage(views, size),
      freeCentre: { xPx: free.centreXPx, yPx: free.centreYPx },
      counts: {
        framesLookedAt,
        framesWithBoard: usable.length,
        viewsLeftOut: first.length - views.length,
      },
    });
    if (!calibration.tellsFocalLength)
      throw errorAt1920Px > DOUBTFUL_FIT_PX ? poorFit(facts, fit) : tooFlat(request.clip);
    // The fits do not look up from their work: an interrupt in them counts here.
    if (signal?.aborted)
      throw new TrundleError('interrupted', `Stopped on request while reading "${request.clip}".`);
    return calibration;
  }
}

async function lookForBoard(
  facts: ClipFacts,
  vision: Vision,
  tools: Tools,
  onProgress: NonNullable<LensHooks['onProgress']>,
  signal: AbortSignal | undefined,
): Promise<{ views: BoardCrossings[]; framesLookedAt: number; size: PictureSize }> {
  const finder = vision.openBoardFinder(CALIBRATION_BOARD);
  const views: BoardCrossings[] = [];
  let framesLookedAt = 0;
  let size: PictureSize = facts;
  try {
    for await (const frame of sharpestFrames(
      facts,
      { stretches: STRETCHES, analysisWidthPx: WIDEST_PX, signal },
      tools,
    )) {
      size = { widthPx: frame.widthPx, heightPx: frame.heightPx };
      framesLookedAt++;
      onProgress('look', framesLookedAt, STRETCHES);
      views.push(finder.find(frame));
    }
  } finally {
    finder.close();
  }
  return { views, framesLookedAt, size };
}

/** A fit. @throws TrundleError `board-views-flat` when the views are so much alike that the engine gives up */
function fitted(
  vision: Vision,
  clip: string,
  views: readonly BoardCrossings[],
  terms: LensTerms,
  size: PictureSize,
  freeCentre = false,
): LensFit {
  try {
    return vision.fitLens(CALIBRATION_BOARD, views, { ...size, terms, freeCentre });
  } catch (error) {
    throw tooFlat(clip, error);
  }
}

function withoutOutliers(
  views: readonly BoardCrossings[],
  { viewRmsPx }: LensFit,
  { widthPx }: PictureSize,
): BoardCrossings[] {
  const most = Math.max(OUTLYING * median(viewRmsPx), (OUTLYING_PX * widthPx) / 1920);
  return views.filter((_, i) => viewRmsPx[i] <= most);
}

function notFound(clip: string, seen: readonly BoardCrossings[]): TrundleError {
  const most = seen.reduce((count, view) => Math.max(count, view.ids.length), 0);
  const what =
    most === 0
      ? `No calibration board was found in "${clip}"`
      : `At most ${most} crossings of the board were found at a time in "${clip}"`;
  return new TrundleError(
    'board-not-found',
    `${what}; film the board of "trundle lens --print", sharp, evenly lit, filling a third of the picture or more, and not mirrored.`,
  );
}

function tooFew(clip: string, views: number): TrundleError {
  return new TrundleError(
    'board-views-few',
    `"${clip}" shows the board in ${views === 1 ? 'one view' : `${views} views`} only, and at least ${LEAST_VIEWS} that differ are needed; move the board through the picture and tilt it, 15 to 25 places make a good clip.`,
  );
}

function poorFit({ file, pixelAspect }: ClipFacts, { viewRmsPx }: LensFit): TrundleError {
  const aspect =
    Math.abs(pixelAspect - 1) > 1e-3
      ? `, or pixels that are not of the shape the file says (${pixelAspect.toFixed(3)} times as wide as high)`
      : '';
  return new TrundleError(
    'board-fit-poor',
    `The crossings in "${file}" lie ${median(viewRmsPx).toFixed(1)} px off any flat board seen through one lens: the sheet is not flat, zoom, focus or stabilising changed while filming, or the lens is a fisheye${aspect}.`,
  );
}

function tooFlat(clip: string, cause?: unknown): TrundleError {
  return new TrundleError(
    'board-views-flat',
    `The views of the board in "${clip}" do not tell the focal length: the board faces the lens in all of them; tilt it by 20 to 45 degrees to the left, right, up and down.`,
    { cause },
  );
}
