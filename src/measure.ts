/**
 * The whole program on one page: from the clip of a test pass to a run that can be written as a report.
 *
 * footage -> tracking -> motion -> surface -> spectrum -> stabilise -> judge -> run document.
 * Each arrow is a plain typed value; nothing downstream reaches back upstream.
 */
import path from 'node:path';
import { shutterTimeS } from './optics/index.js';
import { findTools, grabPicture, readSound, sha256OfClip, type Tools } from './footage/index.js';
import { followClip } from './follow-clip.js';
import { compareMotionLog, motionLogSection } from './motion/index.js';
import { analyseSpectrum } from './spectrum/index.js';
import { ASSUMED_SHUTTER_ANGLE_DEG, planStabilisation } from './stabilise/index.js';
import { gradeSurface } from './surface/index.js';
import { resolveDelivery } from './judge/index.js';
import { breakable } from './breakable.js';
import { buildRun, type RunParts } from './build-run.js';
import { buildSeries } from './build-series.js';
import { planFollowing, type Followed, type FollowPlan } from './follow-plan.js';
import type { MeasureHooks, MeasureRequest } from './measure-request.js';
import { pictureDoubts } from './picture-doubts.js';
import { readMotionLog, requireLength } from './read-motion-log.js';
import { readOtherRun } from './read-other-run.js';
import { readOtherSurface } from './read-other-surface.js';
import type { ReportBundle } from './report/index.js';
import type { Stabilisation } from './stabilise/index.js';
import { TrundleError } from './run/index.js';

/** A measured clip: what a report is made from, with the whole plan of its stabilisation. */
export interface Measured extends ReportBundle {
  readonly stabilisation: Stabilisation;
}

/**
 * Measures one clip.
 *
 * @returns the run document and the series, plan and picture that a report shows
 * @throws TrundleError when the clip or the range cannot be used; a weak measurement is no error but an "unmeasurable" run
 */
export async function measure(request: MeasureRequest, hooks: MeasureHooks = {}): Promise<Measured> {
  const tools = hooks.tools ?? (await findTools());
  return measureFollowed(request, hooks, tools, (plan) => followClip(plan, hooks, tools));
}

/**
 * Measures one clip whose pictures are followed by other means; see `measure`.
 *
 * @param follow from what is to be followed to the motion of the camera
 */
export async function measureFollowed(
  request: MeasureRequest,
  hooks: MeasureHooks,
  tools: Tools,
  follow: (plan: FollowPlan) => Promise<Followed>,
): Promise<Measured> {
  const { onProgress = () => {}, signal } = hooks;
  const { rig = {}, delivery: wanted = {} } = request;
  const log = request.motionLogFile === undefined ? null : await readMotionLog(request.motionLogFile);
  const otherRun = request.otherRun === undefined ? null : await readOtherRun(request.otherRun);
  const otherSurfaces = await Promise.all((request.otherSurfaces ?? []).map(readOtherSurface));

  // Footage: facts first, then grey frames one at a time.
  onProgress('probe', 0, null);
  const { plan, warnings } = await planFollowing(request, tools, signal);
  const { facts, reading } = plan;
  const { inS, outS, onWarning } = reading;
  const rangeS = Math.min(outS ?? facts.durationS, facts.durationS) - (inS ?? 0);
  if (log) requireLength(log, rangeS, request.motionLogFile ?? '');

  // Tracking and motion: features through the frames, then the split into angular and translational, intended move and vibration.
  const { tracking, motion, assumed, contrastGain } = await follow(plan);

  warnings.push(...(await pictureDoubts(tracking, facts, contrastGain)));

  // Wherever the picture counts from here on, the lens is the one that was found.
  const { camera } = motion;

  // A motion log sees the same angles by other means.
  const exposureS = shutterTimeS(rig.shutterAngleDeg ?? ASSUMED_SHUTTER_ANGLE_DEG, facts.fps);
  const logged = log && compareMotionLog(motion, log, exposureS);

  // What follows from the motion: the floor, what shakes and why, the price in crop.
  onProgress('judge', 0, null);
  const delivery = resolveDelivery(wanted);
  const surface = await breakable(request.clip, signal, () =>
    gradeSurface(motion, rig, {
      interCoded: tracking.interCoded,
      view: {
        focalPx: (camera.focalPx * delivery.widthPx) / camera.widthPx,
        widthPx: delivery.widthPx,
        heightPx: delivery.heightPx,
      },
      otherSurfaces,
    }),
  );
  const sound = await readSound(facts, { inS, outS, signal, onWarning }, tools);
  const spectrum = await breakable(request.clip, signal, () =>
    analyseSpectrum(motion, {
      ...{ rig, surface, exposureS, otherRun },
      levels: tracking.levels,
      sound,
    }),
  );
  const stabilisation = await breakable(request.clip, signal, () =>
    planStabilisation(
      { motion, camera, delivery, rig, source: facts },
      { ...request.stabilise, seed: plan.seed },
    ),
  );

  // The run document, with its verdict, and a frame to show.
  const parts: RunParts = {
    request,
    facts,
    rig,
    delivery,
    tracking,
    motion,
    spectrum,
    stabilisation,
    surface,
    camera,
    assumed,
    warnings: [...warnings, ...(logged?.warnings ?? [])],
    motionLog: logged && motionLogSection(logged, path.basename(request.motionLogFile ?? '')),
  };
  const run = buildRun(parts, await sha256OfClip(facts, signal));
  const atS = stabilisation.worstFrameS ?? (run.clip.rangeS[0] + run.clip.rangeS[1]) / 2;
  const picture = await grabPicture(request.clip, facts, atS, 1280, tools, signal);
  // The stages above do not look up from their work: an interrupt in them counts here, before anything is written.
  if (signal?.aborted)
    throw new TrundleError('interrupted', `Stopped on request while measuring "${request.clip}".`);
  return { run, series: buildSeries(run, parts, atS), motion, stabilisation, picture, pictureAtS: atS };
}
