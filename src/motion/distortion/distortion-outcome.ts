/**
 * What is done about a lens that bends lines and that nobody told the distortion of: nothing, or freeing the points of the k1
 * that the clip shows; and how much the figures hang on what is not known of it.
 */
import { isWideView, type Camera } from '../../optics/index.js';
import { AXES } from '../../run/index.js';
import { bendStep, type BendStep } from './bend-step.js';
import { NO_EFFECT, rmsShares } from './distortion-effect.js';
import { follow, searchDistortion } from './distortion-search.js';
import type { Observations } from '../observations.js';
import { copyOfScene, takeOver, type Scene } from '../scene.js';
import type { DistortionReport } from '../types.js';
import { possibleK1, radialLens, unbend } from './unbend.js';

/** Facts that the decision needs besides observations and scene. */
export interface DistortionSettings {
  readonly camera: Camera;
  /** What is known; null when the lens is to be looked for. */
  readonly distortion: DistortionReport | null;
  /** k1 that the scene was made with, when it is to be looked for. */
  readonly startK1: number;
  readonly sigmaStart: number;
  readonly rateHz: number;
  readonly cutoffHz: number;
}

/** Ideal points to go on with, and what is known of the lens. */
export interface DistortionOutcome {
  readonly observations: Observations;
  readonly distortion: DistortionReport;
}

/**
 * A k1 is believed when the cost falls by so much and it stands so many standard deviations clear of none. A focal length that
 * is a twentieth off never meets either line; one that is a tenth or more off may, on arcs and push-ins, with a k1 of about 0.02
 * that changes the figures by far less than the focal length itself does (own trials).
 */
const BELIEVED = [
  { fall: 0.02, deviations: 5 },
  { fall: 0.003, deviations: 7 },
] as const;
/** A search that ends this far from the k1 that is used has no scene to offer. */
const ASTRAY_DEVIATIONS = 5;
/** A k1 that was found through the rolling shutter is looked at again; a change beyond both counts. */
const CHANGED_DEVIATIONS = 2;
const CHANGED_K1 = 0.003;
/**
 * Errors of tracks are alike from frame to frame, which white noise does not know, and no focal length is quite what it says:
 * factor and addend under which k1 stays within its interval on simulated and rendered passes (own trials).
 */
const SD_FACTOR = 2;
const SD_ADDEND = 0.002;

/** What is known before any look at the clip; null when the lens is to be looked for. */
export function knownDistortion(camera: Camera, given: boolean): DistortionReport | null {
  const known = { ci95: null, costFall: null, rmsShare: null } as const;
  if (camera.distortion) return { ...known, source: 'given', k1: camera.distortion.k1, state: 'corrected' };
  if (given) return { ...known, source: 'given', k1: 0, state: 'notNeeded' };
  if (!isWideView(camera)) return { ...known, source: 'none', k1: null, state: 'notNeeded' };
  return null;
}

/** The k1 that observations still have to be freed of. */
export function foundK1({ source, k1 }: DistortionReport): number {
  return source === 'found' ? (k1 ?? 0) : 0;
}

/** The camera with the distortion that was found. */
export function cameraWith(camera: Camera, report: DistortionReport): Camera {
  return report.source === 'found' ? { ...camera, distortion: radialLens(foundK1(report)) } : camera;
}

/**
 * Settles the lens of a scene: looks for k1 where it is not known. The scene is moved to the k1 that is found.
 *
 * @param seen points as seen through the lens (freed of a distortion that was given)
 * @param scene goes with unbend(seen, startK1)
 */
export function settleDistortion(
  seen: Observations,
  scene: Scene,
  settings: DistortionSettings,
): DistortionOutcome {
  const { camera, distortion, startK1, sigmaStart } = settings;
  if (distortion) return { observations: unbend(seen, foundK1(distortion)), distortion };
  const possible = possibleK1(camera);
  const search = searchDistortion(seen, scene, startK1, possible, sigmaStart);
  // A scene that nothing but a k1 made hold has no cost without it: there the deviations alone decide.
  const costFall = startK1 === 0 ? search.costFall : null;
  const report = reportOf(search.k1, costFall, search.step, search.scene, settings, search.atLimit);
  const used = foundK1(report);
  const astray = Math.abs(used - search.k1) > ASTRAY_DEVIATIONS * sdOf(search.step);
  if (used === startK1 && (astray || search.k1 === startK1))
    return { observations: unbend(seen, used), distortion: report };
  takeOver(scene, search.scene);
  if (used !== search.k1) follow(scene, search.step, used - search.k1);
  return { observations: unbend(seen, used), distortion: report };
}

/**
 * Looks at k1 once more where the readout was corrected only after it had been found.
 *
 * @param midRow ideal points at mid-row time, to which the scene is adjusted
 * @returns null when it stands; else the new report, and the scene has moved along
 */
export function recheckDistortion(
  midRow: Observations,
  scene: Scene,
  before: DistortionReport,
  settings: DistortionSettings,
): DistortionReport | null {
  const at = foundK1(before);
  const step = bendStep(midRow, scene, at, settings.sigmaStart);
  const [lowest, highest] = possibleK1(settings.camera);
  const k1 = Math.max(lowest, Math.min(highest, at + step.change));
  if (Math.abs(k1 - at) < Math.max(CHANGED_K1, CHANGED_DEVIATIONS * sdOf(step))) return null;
  // What the bend takes off the cost, to second order: half the squared change in deviations, per observation.
  const fall = (k1 / step.sd) ** 2 / 2 / Math.max(midRow.count, 1);
  const moved = copyOfScene(scene);
  follow(moved, step, k1 - at);
  const report = reportOf(k1, fall, step, moved, settings, k1 === lowest || k1 === highest);
  follow(scene, step, foundK1(report) - at);
  return foundK1(report) === at ? null : report;
}

/** What is known of the lens of a clip that was solved in pieces: what the piece says in which it was looked for. */
export function fuseDistortions(reports: readonly DistortionReport[]): DistortionReport {
  return reports.find(({ source }) => source === 'found') ?? reports.find(({ ci95 }) => ci95) ?? reports[0];
}

const sdOf = (step: BendStep): number => Math.hypot(SD_FACTOR * step.sd, SD_ADDEND);

function reportOf(
  k1: number,
  costFall: number | null,
  step: BendStep,
  scene: Scene,
  settings: DistortionSettings,
  atLimit: boolean,
): DistortionReport {
  const [lowest, highest] = possibleK1(settings.camera);
  const clamped = (value: number): number => Math.max(lowest, Math.min(highest, value));
  const sd = sdOf(step);
  const ci95 = [clamped(k1 - 1.96 * sd), clamped(k1 + 1.96 * sd)] as const;
  const found = BELIEVED.some(
    ({ fall, deviations }) => (costFall ?? 1) >= fall && Math.abs(k1) >= deviations * sd,
  );
  // The scene is the one at k1: first to the k1 that is used, then to the ends of what is possible.
  const used = found ? 0 : -k1;
  const rmsShare = rmsShares(scene, step, used, [ci95[0] - k1, ci95[1] - k1], settings);
  // Beyond the limit k1 alone does not describe the lens, and nobody knows how far off the figures are.
  if (found && atLimit)
    return { source: 'found', k1, ci95: null, state: 'notMeasurable', costFall, rmsShare: null };
  const matters = AXES.some((axis) => rmsShare[axis] > NO_EFFECT);
  return {
    source: found ? 'found' : 'none',
    k1: found ? k1 : null,
    ci95,
    state: found ? 'corrected' : matters ? 'notMeasurable' : 'notNeeded',
    costFall,
    rmsShare,
  };
}
