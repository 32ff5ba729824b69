/** From the clip of a test pass to a stabilised clip, rendered at the crop that was foretold: measured first, or from a stored run. */
import { checkOutput, findTools, probeClip, sha256OfFile, type Tools } from './footage/index.js';
import type { MeasureHooks, MeasureRequest } from './measure-request.js';
import { measure, type Measured } from './measure.js';
import { renderProof, type ProofLayout, type ProofRecord, type ProofWindow } from './proof/index.js';
import { restoreBundle } from './restore-bundle.js';
import { TrundleError, type RunDocument, type RunSeries, type Warning } from './run/index.js';
import type { Stabilisation } from './stabilise/index.js';

/** How the stabilised clip is to be shown and written. */
export interface ProofWish {
  /** .mp4 or .mkv for H.264, .mov for ProRes. */
  readonly file: string;
  readonly layout: ProofLayout;
  /** Which of the plan's windows is shown. */
  readonly window: ProofWindow['kind'];
}

/** Hooks of a proof. */
export interface ProofHooks extends MeasureHooks {
  /** Frames rendered, of about how many. */
  readonly onRendered?: (done: number, total: number) => void;
  /** What the decoder met while rendering. */
  readonly onWarning?: (warning: Warning) => void;
}

/** A proof: the file, and what was foretold for it. */
export interface Proof {
  readonly record: ProofRecord;
  /** Crop of the window shown, per cent of the width; the mean over the frames where it moves. */
  readonly cropPercent: number;
  readonly run: RunDocument;
}

/**
 * Measures `request.clip` and renders it stabilised.
 *
 * @throws TrundleError as `measure`; 'proof-impossible' when the clip was unmeasurable or no window covers all frames;
 *   'output-unwritable' (also when the file is the clip itself), 'interrupted'
 */
export async function prove(
  request: MeasureRequest,
  wish: ProofWish,
  hooks: ProofHooks = {},
): Promise<Proof> {
  const { tools = await findTools() } = hooks;
  await checkOutput(wish.file, request.clip);
  return render(request.clip, await measure(request, { ...hooks, tools }), wish, { ...hooks, tools });
}

/** A run as the log or its folder has it, and where its clip is now. */
export interface StoredPass {
  readonly run: RunDocument;
  /** Of the same run as the document. */
  readonly series: RunSeries;
  readonly clip: string;
}

/**
 * Renders the clip of a stored run stabilised, as it was foretold when it was measured; nothing is measured again.
 *
 * @throws TrundleError as `prove`; 'proof-impossible' also when the clip is another than the one that was measured
 */
export async function proveStored(
  { run, series, clip }: StoredPass,
  wish: ProofWish,
  hooks: ProofHooks = {},
): Promise<Proof> {
  const { tools = await findTools() } = hooks;
  await checkOutput(wish.file, clip);
  if ((await sha256OfFile(clip)) !== run.clip.sha256)
    throw new TrundleError(
      'proof-impossible',
      `The clip "${clip}" is not the one that was measured; find that one, or measure this one.`,
    );
  return render(clip, await restoreBundle(run, series, null), wish, { ...hooks, tools });
}

type Planned = Pick<Measured, 'run' | 'motion' | 'stabilisation'>;

async function render(
  clip: string,
  { run, motion, stabilisation: plan }: Planned,
  wish: ProofWish,
  { tools, signal, threads, onRendered, onWarning }: ProofHooks & { readonly tools: Tools },
): Promise<Proof> {
  refuseHopeless(run, plan, clip);
  const [inS, outS] = run.clip.rangeS;
  const record = await renderProof(
    {
      clip,
      facts: await probeClip(clip, tools),
      range: { inS, outS },
      timeS: motion.timeS,
      corrections: plan.corrections,
      camera: motion.camera,
      window: windowOf(plan, wish.window),
      shape: plan.delivery.heightPx / plan.delivery.widthPx,
      file: wish.file,
      layout: wish.layout,
      codec: /\.mov$/i.test(wish.file) ? 'prores' : 'h264',
    },
    { signal, threads, onProgress: onRendered, onWarning, tools },
  );
  return { record, cropPercent: cropOf(plan, wish.window), run };
}

/** A picture that covers nothing, or figures that mean nothing, are no proof of anything. */
function refuseHopeless({ verdict }: RunDocument, plan: Stabilisation, clip: string): void {
  const refuse = (why: string): never => {
    throw new TrundleError('proof-impossible', `The clip "${clip}" cannot be rendered stabilised: ${why}`);
  };
  if (verdict.grade === 'unmeasurable')
    refuse(`it is unmeasurable. ${verdict.reasons[0]?.text ?? ''} ${verdict.advice[0]?.text ?? ''}`.trim());
  if (!plan.coverable)
    refuse(
      plan.mode === 'holdStill'
        ? 'holding still would take more than half of the picture, for the camera turns too far; use --stabilise keep-move.'
        : 'more than half of the picture would have to go.',
    );
}

function windowOf(plan: Stabilisation, window: ProofWish['window']): ProofWindow {
  switch (window) {
    case 'centred':
      return { kind: 'centred', zoom: plan.zoom };
    case 'offCentre':
      return { kind: 'offCentre', ...plan.offCentre };
    case 'moving':
      return { kind: 'moving', zoom: plan.movingCropFraction.map((crop) => 1 / (1 - crop)) };
  }
}

function cropOf(plan: Stabilisation, window: ProofWish['window']): number {
  switch (window) {
    case 'centred':
      return plan.cropPercent;
    case 'offCentre':
      return plan.offCentre.cropPercent;
    case 'moving':
      return plan.movingCropPercent;
  }
}
