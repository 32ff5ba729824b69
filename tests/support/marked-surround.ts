/**
 * Borders looked for in pixels: the corrections of a clip laid over white frames in a black surround. Where a rendered pixel
 * is darker than half-way, its middle came from outside the frame: a symmetric kernel puts the half-way level on the edge.
 */
import fs from 'node:fs';
import path from 'node:path';
import { decodePlanes, probeClip } from '../../src/footage/index.js';
import type { Camera, PictureSize } from '../../src/optics/index.js';
import { renderProof, type ProofWindow } from '../../src/proof/index.js';
import { wholeHalfWidth, type Corrections, type RowChanges } from '../../src/stabilise/index.js';
import { makeClip, tools } from '../footage/made-clips.js';

/** A clip's corrections and a window to show of it. */
export interface SurroundRequest {
  /** Seconds, one per correction. */
  readonly timeS: Float64Array;
  readonly corrections: Corrections;
  readonly camera: Camera;
  readonly delivery: PictureSize;
  readonly window: ProofWindow;
  /** Frame about which five frames are rendered, at twice the size; all frames at the size of the camera when missing. */
  readonly closeUpOf?: number | undefined;
}

/** Levels of black and white as coded. */
const BLACK = 16;
const WHITE = 235;
const HALF_WAY = (BLACK + WHITE) / 2;
/** Surround above and below, where rows turn: this many times the way from one row knot to the next. */
const KNOTS_ABOVE = 4;
/** Widest surround that is tried at the sides. */
const MOST_SIDE_PX = 200;

/** What was found in a rendered clip. */
export interface BorderCount {
  /** Frames that show something from outside the recorded frame. */
  readonly withBorder: number;
  readonly frames: number;
  /** 16 black, 235 white. */
  readonly darkest: number;
}

/** Renders the white frames as the clip would be, and counts those that show their surround. */
export async function countBorders(request: SurroundRequest, folder: string): Promise<BorderCount> {
  const { timeS, corrections, camera, delivery, window, closeUpOf } = request;
  const { rows } = corrections;
  const shape = delivery.heightPx / delivery.widthPx;
  const surrounded = surround(camera, rows, shape);
  const wider = wholeHalfWidth(surrounded, shape) / wholeHalfWidth(camera, shape);
  const frameS = timeS[1] - timeS[0];
  const white = await whiteClip(camera, surrounded, {
    enlarge: closeUpOf === undefined ? 1 : 2,
    fps: 1 / frameS,
    // A little more than is looked at.
    frames: closeUpOf === undefined ? timeS.length : Math.min(timeS.length, closeUpOf + 4),
    folder,
  });
  const file = path.join(folder, 'surround-stabilised.mp4');
  await renderProof(
    {
      clip: white,
      facts: await probeClip(white, tools),
      range:
        closeUpOf === undefined
          ? { inS: 0, outS: Infinity }
          : { inS: Math.max(0, timeS[closeUpOf] - 2.5 * frameS), outS: timeS[closeUpOf] + 2.5 * frameS },
      timeS,
      corrections: { ...corrections, rows: rows && heldBeyondEdges(rows) },
      camera: surrounded,
      window: widened(window, wider),
      shape,
      file,
      layout: 'alone',
      codec: 'h264',
      quality: 0,
    },
    { threads: 1, tools },
  );
  let [withBorder, frames, darkest] = [0, 0, WHITE];
  for await (const { planes } of decodePlanes(file, await probeClip(file, tools), {}, tools)) {
    let least = WHITE;
    for (const level of planes[0]) least = Math.min(least, level);
    if (least < HALF_WAY) withBorder++;
    darkest = Math.min(darkest, least);
    frames++;
  }
  return { withBorder, frames, darkest };
}

/** The camera of the surrounded picture; so large that a window of the shape comes out in whole even pixels. */
function surround(camera: Camera, rows: RowChanges | null, shape: number): Camera {
  for (let sidePx = 16; sidePx <= MOST_SIDE_PX; sidePx += 2) {
    const abovePx = rows ? (KNOTS_ABOVE * camera.heightPx) / (rows.knots - 1) : sidePx;
    const size = { widthPx: camera.widthPx + 2 * sidePx, heightPx: camera.heightPx + 2 * abovePx };
    const widthPx = 2 * wholeHalfWidth(size, shape);
    if (!isEven(widthPx) || !isEven(widthPx * shape)) continue;
    return {
      ...camera,
      ...size,
      centreXPx: camera.centreXPx + sidePx,
      centreYPx: camera.centreYPx + abovePx,
    };
  }
  throw new RangeError(`no surround up to ${MOST_SIDE_PX} px gives whole pixels at shape ${shape}`);
}

function isEven(px: number): boolean {
  return Math.abs(px / 2 - Math.round(px / 2)) < 1e-9;
}

/** White frames in a black surround, lossless. One clip is made for all windows of a pass. */
async function whiteClip(
  inner: PictureSize,
  outer: PictureSize,
  clip: {
    readonly enlarge: number;
    readonly fps: number;
    readonly frames: number;
    readonly folder: string;
  },
): Promise<string> {
  const [innerSize, outerSize] = [inner, outer].map(
    ({ widthPx, heightPx }) => [clip.enlarge * widthPx, clip.enlarge * heightPx] as const,
  );
  const file = path.join(clip.folder, `surround-${outerSize.join('x')}.mkv`);
  if (fs.existsSync(file)) return file;
  const at = [0, 1].map((side) => (outerSize[side] - innerSize[side]) / 2);
  return makeClip(
    file,
    ...['-f', 'lavfi', '-i', `color=white:size=${innerSize.join('x')}:rate=${clip.fps.toFixed(6)}`],
    ...['-frames:v', String(clip.frames), '-vf', `pad=${[...outerSize, ...at].join(':')}:black`],
    ...['-c:v', 'libx264', '-qp', '0', '-preset', 'ultrafast', '-pix_fmt', 'yuv420p'],
  );
}

/** The same window in a larger picture. */
function widened(window: ProofWindow, factor: number): ProofWindow {
  return window.kind === 'moving'
    ? { kind: 'moving', zoom: window.zoom.map((zoom) => zoom * factor) }
    : { ...window, zoom: window.zoom * factor };
}

/** Knots of a taller picture: rows above and below turn like the outermost ones. */
function heldBeyondEdges({ knots, pan, tilt, roll }: RowChanges): RowChanges {
  const taller = knots + 2 * KNOTS_ABOVE;
  const column = (of: Float64Array): Float64Array =>
    Float64Array.from({ length: (of.length / knots) * taller }, (_, i) => {
      const knot = Math.max(0, Math.min(knots - 1, (i % taller) - KNOTS_ABOVE));
      return of[Math.floor(i / taller) * knots + knot];
    });
  return { knots: taller, pan: column(pan), tilt: column(tilt), roll: column(roll) };
}
