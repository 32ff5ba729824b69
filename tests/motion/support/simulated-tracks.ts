/**
 * Tracks of made-up dolly passes with exact truth and no pictures: a workshop hall with floor, back wall and boards
 * at all distances, a camera on a known path that shakes by known angles and lengths, white tracking noise, gross
 * errors, and a walking person who carries some of the tracks. A sensor read row by row from top to bottom sees each
 * point at the time of its own row. Metres, radians, pixels at 960 x 540; seeded.
 */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { distort, multiply3, rotationFromVector, undistort, type Camera } from '../../../src/optics/index.js';
import type { TrackTable } from '../../../src/tracking/index.js';
import { rolledTime } from './rolled-time.js';

export type Move = 'lateral' | 'push' | 'arc' | 'static';

/** What the scene is: the hall, a slightly turned wall at 4 m, or points anywhere between two distances (m). */
export type SceneKind = 'hall' | 'wall' | readonly [number, number];

/** A pass; see DEFAULTS. */
export interface PassOptions {
  readonly focalMm: number;
  readonly fps: number;
  readonly durationS: number;
  readonly move: Move;
  readonly speedMps: number;
  /** The dolly stands still for this long before it starts. */
  readonly restS: number;
  /** Speed ramps up over so long at the start of the clip and down at its end, evenly; a pause has the same ramps. */
  readonly rampS: number;
  /** The dolly stands still from a time on, for so long, seconds (ramps not counted); null when it never stops. */
  readonly pause: { readonly fromS: number; readonly lengthS: number } | null;
  /** How uneven the rolling is: 1 for slow changes of speed by a quarter, 0 for even speed. */
  readonly unevenness: number;
  readonly scene: SceneKind;
  /** RMS of tilt; pan has 0.8 and roll 0.6 of it. */
  readonly angularDeg: number;
  /** RMS of vertical; lateral and axial have 0.6 of it. */
  readonly translationalMm: number;
  /** Overrides single axes: RMS of tilt, pan, roll (deg) and right, down, forward (mm). */
  readonly axisDeg: readonly [number, number, number] | null;
  readonly axisMm: readonly [number, number, number] | null;
  readonly noisePx: number;
  readonly subjectShare: number;
  readonly grossShare: number;
  readonly liveTracks: number;
  readonly meanLifeFrames: number;
  readonly panRateDegPerS: number;
  /** Time from the first row to one past the last; frame times are those of the middle row. 0 for a global shutter. */
  readonly readoutMs: number;
  /** Radial distortion of the lens, which the camera of the pass does not tell; 0 keeps lines straight. */
  readonly lensK1: number;
  /** Knocks of floor joints on top of the shake; null for a smooth floor. */
  readonly hits: Hits | null;
  readonly seed: number;
}

/** Knocks at uneven intervals: each sets off a ringing of its own frequency that dies away. */
export interface Hits {
  readonly everyS: number;
  readonly freqHz: readonly [number, number];
  /** Time in which the ringing falls to 1/e. */
  readonly decayS: number;
  /** Size of the first swing, standard deviation over the knocks: tilt, pan, roll (deg) and right, down, forward (mm). */
  readonly deg: readonly [number, number, number];
  readonly mm: readonly [number, number, number];
}

export const DEFAULTS: PassOptions = {
  focalMm: 50,
  fps: 30,
  durationS: 5,
  move: 'lateral',
  speedMps: 0.2,
  restS: 0,
  rampS: 0,
  pause: null,
  unevenness: 1,
  scene: 'hall',
  angularDeg: 0.02,
  translationalMm: 0.2,
  axisDeg: null,
  axisMm: null,
  noisePx: 0.08,
  subjectShare: 0.1,
  grossShare: 0.01,
  liveTracks: 250,
  meanLifeFrames: 60,
  panRateDegPerS: 0,
  readoutMs: 0,
  lensK1: 0,
  hits: null,
  seed: 1,
};

/** A simulated pass and its truth. */
export interface SimulatedPass {
  readonly table: TrackTable;
  readonly camera: Camera;
  /** World-to-camera, 9 per frame; centres 3 per frame, metres. */
  readonly rotations: Float64Array;
  readonly centres: Float64Array;
  /** Length of the intended path, metres. */
  readonly travelM: number;
  /** 1 for tracks on the walking person, per track of the table. */
  readonly onSubject: Uint8Array;
  /** Where the point of each track lies in the world, 3 per track, metres; of the person's tracks, where it would be at time 0. */
  readonly pointsM: Float64Array;
}

const WIDTH = 960;
const HEIGHT = 540;
/** Radius of the arc move: the camera keeps looking at a point this far away. */
const ARC_RADIUS_M = 3;
const EDGE_PX = 8;
const SHORTEST_TRACK = 6;
const RAD = Math.PI / 180;

/** Films a pass. */
export function simulatePass(options: Partial<PassOptions> = {}): SimulatedPass {
  const pass = { ...DEFAULTS, ...options };
  const random = seededRandom(pass.seed);
  const normal = gaussianRandom(random);
  const uniform = (a: number, b: number): number => a + (b - a) * random();
  const frameCount = Math.round(pass.durationS * pass.fps);
  const focalPx = (pass.focalMm / 36) * WIDTH;
  const camera: Camera = {
    widthPx: WIDTH,
    heightPx: HEIGHT,
    focalPx,
    centreXPx: (WIDTH - 1) / 2,
    centreYPx: (HEIGHT - 1) / 2,
    distortion: null,
  };

  const lens = { k1: pass.lensK1, k2: 0, k3: 0, p1: 0, p2: 0 };

  const pose = cameraPath(pass, uniform, random);
  const rotations = new Float64Array(9 * frameCount);
  const centres = new Float64Array(3 * frameCount);
  let travelM = 0;
  for (let t = 0; t < frameCount; t++) {
    const { rotation, centre } = pose(t / pass.fps);
    rotations.set(rotation, 9 * t);
    centres.set(centre, 3 * t);
    if (t > 0) travelM += pathStep(pass, (t - 1) / pass.fps, t / pass.fps, pose);
  }

  const distance = sceneDistance(pass, uniform, random);
  const bob = uniform(0, 2 * Math.PI);
  const subjectAt = (s: number): number[] => [
    0.35 * s,
    0.03 * Math.sin(2 * Math.PI * 1.9 * s + bob),
    0.25 * Math.sin(0.5 * s + bob),
  ];

  // Live slots: each holds one track until it leaves the frame or its life ends, then takes a new one.
  interface Slot {
    point: number[];
    subject: boolean;
    lastFrame: number;
    frames: number[];
    x: number[];
    y: number[];
  }
  const finished: Slot[] = [];
  const slots: (Slot | null)[] = new Array<Slot | null>(pass.liveTracks).fill(null);
  const projectFrom = (
    slot: Slot,
    s: number,
    r: ArrayLike<number>,
    c: ArrayLike<number>,
  ): [number, number, number] => {
    const moved = slot.subject ? subjectAt(s) : [0, 0, 0];
    const d = [0, 1, 2].map((j) => slot.point[j] + moved[j] - c[j]);
    const z = r[6] * d[0] + r[7] * d[1] + r[8] * d[2];
    const safe = Math.max(z, 0.05);
    const px = (focalPx * (r[0] * d[0] + r[1] * d[1] + r[2] * d[2])) / safe;
    const py = (focalPx * (r[3] * d[0] + r[4] * d[1] + r[5] * d[2])) / safe;
    if (pass.lensK1 === 0) return [px + camera.centreXPx, py + camera.centreYPx, z];
    const r2 = (px / focalPx) ** 2 + (py / focalPx) ** 2;
    // Beyond the fold of the model nothing is seen.
    if (1 + 3 * pass.lensK1 * r2 <= 0) return [-1, -1, -1];
    const seen = distort(lens, px / focalPx, py / focalPx);
    return [focalPx * seen.x + camera.centreXPx, focalPx * seen.y + camera.centreYPx, z];
  };
  const project = (slot: Slot, t: number): [number, number, number] => {
    const r = rotations.subarray(9 * t, 9 * t + 9);
    let seen = projectFrom(slot, t / pass.fps, r, centres.subarray(3 * t, 3 * t + 3));
    // The row decides the time and the time the row: three rounds settle it far below the noise.
    for (let round = 0; pass.readoutMs > 0 && round < 3; round++) {
      const s = t / pass.fps + (pass.readoutMs / 1000) * ((seen[1] + 0.5) / HEIGHT - 0.5);
      const { rotation, centre } = pose(s);
      seen = projectFrom(slot, s, rotation, centre);
    }
    return seen;
  };
  const start = (t: number): Slot => {
    const subject = random() < pass.subjectShare;
    let px = uniform(EDGE_PX, WIDTH - EDGE_PX);
    let py = uniform(EDGE_PX, HEIGHT - EDGE_PX);
    if (subject) {
      px = camera.centreXPx + 0.12 * WIDTH * normal();
      py = camera.centreYPx + uniform(-0.35, 0.35) * HEIGHT;
    }
    const ray = [(px - camera.centreXPx) / focalPx, (py - camera.centreYPx) / focalPx, 1];
    if (pass.lensK1 !== 0) {
      const ideal = undistort(lens, ray[0], ray[1]);
      ray[0] = ideal.x;
      ray[1] = ideal.y;
    }
    const r = rotations.subarray(9 * t, 9 * t + 9);
    const c = centres.subarray(3 * t, 3 * t + 3);
    const world = [0, 1, 2].map((j) => r[j] * ray[0] + r[3 + j] * ray[1] + r[6 + j] * ray[2]);
    const far = subject ? uniform(2.2, 2.8) : distance(c, world);
    const moved = subject ? subjectAt(t / pass.fps) : [0, 0, 0];
    const early = t === 0 ? random() ** 0.3 : 1;
    const life = 8 - pass.meanLifeFrames * Math.log(1 - random()) * early;
    return {
      point: world.map((w, j) => c[j] + far * w - moved[j]),
      subject,
      lastFrame: t + Math.floor(life),
      frames: [],
      x: [],
      y: [],
    };
  };
  for (let t = 0; t < frameCount; t++) {
    for (let k = 0; k < slots.length; k++) {
      let slot = slots[k];
      let seen = slot && project(slot, t);
      if (slot && seen) {
        const [x, y, z] = seen;
        const inside = x > EDGE_PX && x < WIDTH - EDGE_PX && y > EDGE_PX && y < HEIGHT - EDGE_PX && z > 0.3;
        if (!inside || slot.lastFrame <= t) {
          finished.push(slot);
          slot = null;
          seen = null;
        }
      }
      slot ??= start(t);
      slots[k] = slot;
      const [x, y] = seen ?? project(slot, t);
      const gross = random() < pass.grossShare ? 4 : 0;
      slot.frames.push(t);
      slot.x.push(x + pass.noisePx * normal() + gross * normal());
      slot.y.push(y + pass.noisePx * normal() + gross * normal());
    }
  }
  for (const slot of slots) if (slot) finished.push(slot);
  const kept = finished.filter((slot) => slot.frames.length >= SHORTEST_TRACK);
  const trackStart = new Int32Array(kept.length + 1);
  kept.forEach((slot, i) => (trackStart[i + 1] = trackStart[i] + slot.frames.length));
  const table: TrackTable = {
    widthPx: WIDTH,
    heightPx: HEIGHT,
    frameCount,
    timeS: Float64Array.from({ length: frameCount }, (_, t) => t / pass.fps),
    trackCount: kept.length,
    trackStart,
    obsFrame: Int32Array.from(kept.flatMap((slot) => slot.frames)),
    xPx: Float64Array.from(kept.flatMap((slot) => slot.x)),
    yPx: Float64Array.from(kept.flatMap((slot) => slot.y)),
  };
  const onSubject = Uint8Array.from(kept, (slot) => (slot.subject ? 1 : 0));
  const pointsM = Float64Array.from(kept.flatMap((slot) => slot.point));
  return { table, camera, rotations, centres, travelM, onSubject, pointsM };
}

/** Pose of the camera at any time, and the smooth base it shakes about. */
type Path = (s: number) => { rotation: Float64Array; centre: number[]; base: number[] };

function cameraPath(
  pass: PassOptions,
  uniform: (a: number, b: number) => number,
  random: () => number,
): Path {
  const phase = Array.from({ length: 6 }, () => uniform(0, 2 * Math.PI));
  const { angularDeg: a, translationalMm: d } = pass;
  const degrees = pass.axisDeg ?? [a, 0.8 * a, 0.6 * a];
  const millimetres = pass.axisMm ?? [0.6 * d, d, 0.6 * d];
  const shakeW = degrees.map((rms) => shake(rms * RAD, uniform, random, [3.1, 7.7]));
  const shakeC = millimetres.map((rms) => shake(rms / 1000, uniform, random, [2.6, 5.3]));
  const knock = pass.hits ? knocks(pass.hits, pass) : () => [0, 0, 0, 0, 0, 0];
  const travelled = (s: number): number => {
    const slow =
      (0.25 * Math.sin(2 * Math.PI * 0.13 * s + phase[0])) / (2 * Math.PI * 0.13) +
      (0.05 * Math.sin(2 * Math.PI * 0.3 * s + phase[1])) / (2 * Math.PI * 0.3);
    return pass.speedMps * (s + pass.unevenness * slow);
  };
  const rolled = pass.rampS > 0 || pass.pause ? rolledTime(pass) : (s: number): number => s;
  return (s) => {
    // After the rest the speed ramps up over half a second.
    const since = Math.max(0, s - pass.restS);
    const moving = pass.restS > 0 ? Math.max(0, since - 0.25 * (1 - Math.exp(-since / 0.25))) : rolled(s);
    const way = travelled(moving) - travelled(0);
    const turnW = [0, 0, 0];
    let base = [0, 0, 0];
    if (pass.move === 'lateral') base = [way, 0.01 * Math.sin(2 * Math.PI * 0.08 * moving), 0];
    if (pass.move === 'push') base = [0.01 * Math.sin(2 * Math.PI * 0.1 * moving), 0, way];
    if (pass.move === 'arc') {
      const angle = way / ARC_RADIUS_M;
      base = [ARC_RADIUS_M * Math.sin(angle), 0, ARC_RADIUS_M * (1 - Math.cos(angle))];
      turnW[1] = angle;
    }
    turnW[1] += pass.panRateDegPerS * RAD * s;
    turnW[0] += 0.05 * RAD * Math.sin(2 * Math.PI * 0.15 * s + phase[4]);
    turnW[1] += 0.05 * RAD * Math.sin(2 * Math.PI * 0.11 * s + phase[5]);
    const slow = rotationFromVector(turnW[0], turnW[1], turnW[2]);
    const hit = knock(s);
    const w = shakeW.map((f, j) => f(s) + hit[j]);
    const offset = shakeC.map((f, j) => f(s) + hit[3 + j]);
    const centre = base.map(
      (b, j) => b + slow[j] * offset[0] + slow[3 + j] * offset[1] + slow[6 + j] * offset[2],
    );
    return { rotation: multiply3(rotationFromVector(w[0], w[1], w[2]), slow), centre, base };
  };
}

/** Band noise of 2-12 Hz with two narrow peaks, of the RMS given; defined for any time. */
function shake(
  rms: number,
  uniform: (a: number, b: number) => number,
  random: () => number,
  peaksHz: readonly [number, number],
): (s: number) => number {
  const waves = Array.from({ length: 40 }, () => {
    const freqHz = uniform(2, 12);
    const amplitude = Math.sqrt(-2 * Math.log(1 - random())) / Math.sqrt(freqHz / 2);
    return { freqHz, amplitude, phase: uniform(0, 2 * Math.PI) };
  });
  const power = (): number => Math.sqrt(waves.reduce((sum, w) => sum + w.amplitude ** 2 / 2, 0));
  const band = power();
  peaksHz.forEach((freqHz, k) =>
    waves.push({ freqHz, amplitude: band * [0.5, 0.4][k] * Math.SQRT2, phase: uniform(0, 2 * Math.PI) }),
  );
  const scale = rms / power();
  return (s) => {
    let sum = 0;
    for (const w of waves) sum += w.amplitude * Math.sin(2 * Math.PI * w.freqHz * s + w.phase);
    return scale * sum;
  };
}

/** Sum of all ringings at any time: tilt, pan, roll as a rotation vector (rad), then right, down, forward (m). */
function knocks(hits: Hits, pass: PassOptions): (s: number) => number[] {
  // A sequence of its own: passes without hits keep theirs.
  const random = seededRandom(pass.seed * 7907 + 3);
  const normal = gaussianRandom(random);
  const sizes = [...hits.deg.map((deg) => deg * RAD), ...hits.mm.map((mm) => mm / 1000)];
  const all: { atS: number; freqHz: number; size: number[] }[] = [];
  for (let atS = -hits.everyS; atS < pass.durationS; atS += hits.everyS * (0.7 + 0.6 * random())) {
    const freqHz = hits.freqHz[0] + random() * (hits.freqHz[1] - hits.freqHz[0]);
    all.push({ atS, freqHz, size: sizes.map((size) => size * normal()) });
  }
  return (s) => {
    const sum = [0, 0, 0, 0, 0, 0];
    for (const { atS, freqHz, size } of all) {
      if (s <= atS) continue;
      const ringing = Math.exp((atS - s) / hits.decayS) * Math.sin(2 * Math.PI * freqHz * (s - atS));
      for (let j = 0; j < 6; j++) sum[j] += size[j] * ringing;
    }
    return sum;
  };
}

function pathStep(pass: PassOptions, from: number, to: number, pose: Path): number {
  if (pass.move === 'static') return 0;
  const a = pose(from).base;
  const b = pose(to).base;
  return Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
}

/** Distance along a world direction (as a multiple of it) to whatever it meets first. */
function sceneDistance(
  pass: PassOptions,
  uniform: (a: number, b: number) => number,
  random: () => number,
): (from: ArrayLike<number>, direction: readonly number[]) => number {
  const plane = (
    from: ArrayLike<number>,
    d: readonly number[],
    n: readonly number[],
    offset: number,
  ): number => {
    const along = d[0] * n[0] + d[1] * n[1] + d[2] * n[2];
    const hit = (offset - from[0] * n[0] - from[1] * n[1] - from[2] * n[2]) / along;
    return hit > 0.1 && Number.isFinite(hit) ? hit : 1e9;
  };
  const { scene } = pass;
  if (scene === 'wall') return (from, d) => plane(from, d, [0.1, 0, 0.995], 4);
  if (scene !== 'hall') return () => uniform(scene[0], scene[1]);
  const boards = Array.from({ length: 120 }, () => {
    const kind = random();
    const z = kind < 1 / 3 ? uniform(0.9, 2) : kind < 2 / 3 ? uniform(2, 4) : uniform(4, 7.5);
    return { z, middle: uniform(-12, 12), half: (0.06 + uniform(0, 0.075)) * z, top: uniform(-0.6, 0.5) };
  });
  return (from, d) => {
    let nearest = Math.min(plane(from, d, [0, 0, 1], 9), plane(from, d, [0, 1, 0], 1.1));
    for (const board of boards) {
      const hit = (board.z - from[2]) / d[2];
      if (!(hit > 0.4) || hit >= nearest) continue;
      const x = from[0] + hit * d[0];
      const y = from[1] + hit * d[1];
      if (Math.abs(x - board.middle) < board.half && y > board.top && y < 1.1) nearest = hit;
    }
    return Math.min(Math.max(nearest, 0.5), 20);
  };
}
