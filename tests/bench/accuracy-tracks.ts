/**
 * Measured against true on simulated tracks, as a Markdown table: many passes a scenario, exact truth, white noise of
 * 0.08 px unless said, 160 tracks at a time, 4 s at 25 frames per second. Angles in mdeg, translations in um.
 */
import { AXES, ANGULAR_AXES, TRANSLATIONAL_AXES, type Axis } from '../../src/run/index.js';
import {
  measureOn,
  measuredVibration,
  trueVibration,
  type MeasuredPass,
} from '../motion/support/measure-pass.js';
import { MDEG_PER_RAD, UM_PER_M } from '../motion/support/score.js';
import {
  DEFAULTS,
  simulatePass,
  type PassOptions,
  type SimulatedPass,
} from '../motion/support/simulated-tracks.js';
import { withHighlights, withTextureSlips, type StrayPass } from '../motion/support/stray-tracks.js';
import { cramerRaoBound } from '../support/crb.js';

/** One row of the table. */
interface Scenario {
  readonly name: string;
  readonly options: Partial<PassOptions>;
  /** Leads some tracks astray. */
  readonly spoil?: (pass: SimulatedPass, seed: number) => StrayPass;
}

const SMALL: Partial<PassOptions> = { durationS: 4, fps: 25, liveTracks: 160 };
const SEEDS = Array.from({ length: 10 }, (_, k) => k + 1);

/** The scenarios, in the order of the table. */
export const TRACK_SCENARIOS: readonly Scenario[] = [
  ...(['lateral', 'push', 'arc'] as const).flatMap((move) =>
    [24, 50, 85].map((focalMm) => ({ name: `${move}, ${focalMm} mm`, options: { move, focalMm } })),
  ),
  { name: 'creeping at 2 cm/s, 50 mm', options: { speedMps: 0.02 } },
  { name: 'angles only, 0.1 deg', options: { angularDeg: 0.1, translationalMm: 0 } },
  { name: 'translation only, 1 mm', options: { angularDeg: 0, translationalMm: 1 } },
  { name: 'depths 3 to 5 m, 50 mm', options: { scene: [3, 5] } },
  { name: 'depths 3.9 to 4.1 m, 50 mm', options: { scene: [3.9, 4.1] } },
  { name: 'noise 0.15 px, person 20 %', options: { noisePx: 0.15, subjectShare: 0.2 } },
  { name: 'person 35 %', options: { subjectShare: 0.35 } },
  {
    name: 'highlights 15 %',
    options: { subjectShare: 0.05 },
    spoil: (pass, seed) => withHighlights(pass, 0.15, seed),
  },
  {
    name: 'slips of 16 px 10 %',
    options: { subjectShare: 0.05 },
    spoil: (pass, seed) => withTextureSlips(pass, 0.1, 16, seed),
  },
  { name: 'static, angles only', options: { move: 'static', translationalMm: 0 } },
];

/** A leak less certain than this is not printed. */
const WORST_LEAK_NOISE = 0.05;

/** Sums over the passes of a scenario, one per axis. */
interface Sums {
  error2: number;
  true2: number;
  measured2: number;
  product: number;
  bound2: number;
  inside: number;
  passes: number;
  /** Error times and square of the true motion that looks alike, expressed in the axis' own unit. */
  leakProduct: number;
  leakSquare: number;
}

/** The axis whose motion looks like that of each, and the sign of the likeness in camera axes does not matter. */
const ALIKE: Partial<Record<Axis, Axis>> = {
  pan: 'lateral',
  lateral: 'pan',
  tilt: 'vertical',
  vertical: 'tilt',
};

/** Prints the table row by row, of the scenarios whose name holds one of the words (all when there are none). */
export function printTrackTable(words: readonly string[], write: (text: string) => void): void {
  const wanted = TRACK_SCENARIOS.filter(
    ({ name }) => words.length === 0 || words.some((word) => name.includes(word)),
  );
  if (wanted.length === 0) return;
  write(
    'Pan/tilt/roll ; lateral/vertical/axial over ' +
      `${SEEDS.length} passes each. Leak: false motion that goes along with the true motion it is alike to, in per cent of it, ± what noise alone gives (pan/tilt ; lateral/vertical).\n\n` +
      '| simulated tracks | translation told | true RMS, mdeg ; um | error / true, % | correlation | leak, % | inside 95 %, % | error / least possible |\n' +
      '|---|---|---|---|---|---|---|---|\n',
  );
  for (const scenario of wanted) write(row(scenario));
  write('\n');
}

function row({ name, options, spoil }: Scenario): string {
  const sums = Object.fromEntries(
    AXES.map((axis) => [
      axis,
      {
        error2: 0,
        true2: 0,
        measured2: 0,
        product: 0,
        bound2: 0,
        inside: 0,
        passes: 0,
        leakProduct: 0,
        leakSquare: 0,
      },
    ]),
  ) as Record<Axis, Sums>;
  let travelling = 0;
  for (const seed of SEEDS) {
    const plain = simulatePass({ ...SMALL, ...options, seed });
    const pass = spoil ? spoil(plain, seed) : plain;
    const measured = measureOn(pass);
    if (measured.motion.observable !== 'no') travelling++;
    add(sums, measured, options.noisePx ?? DEFAULTS.noisePx);
  }
  const each = (figure: (s: Sums, axis: Axis) => string): string =>
    [ANGULAR_AXES, TRANSLATIONAL_AXES]
      .map((axes) => axes.map((axis) => (sums[axis].passes > 0 ? figure(sums[axis], axis) : '-')).join('/'))
      .join(' ; ');
  const isSilent = (s: Sums): boolean => s.true2 < s.error2;
  const columns = [
    name,
    `${travelling} of ${SEEDS.length}`,
    each((s, axis) => {
      const angular = ANGULAR_AXES.some((a) => a === axis);
      const unit = angular ? MDEG_PER_RAD : UM_PER_M;
      return (Math.sqrt(s.true2 / s.passes) * unit).toFixed(angular ? 1 : 0);
    }),
    each((s) => (isSilent(s) ? '-' : (100 * Math.sqrt(s.error2 / s.true2)).toPrecision(2))),
    each((s) => (isSilent(s) ? '-' : (s.product / Math.sqrt(s.true2 * s.measured2)).toFixed(3))),
    [
      ['pan', 'tilt'],
      ['lateral', 'vertical'],
    ]
      .map((axes) => axes.map((axis) => leakCell(sums[axis as Axis])).join('/'))
      .join(' ; '),
    each((s) => ((100 * s.inside) / s.passes).toFixed(0)),
    each((s) => (s.bound2 > 0 ? Math.sqrt(s.error2 / s.bound2).toFixed(2) : '-')),
  ];
  return `| ${columns.join(' | ')} |\n`;
}

/** The leak and the deviation that noise alone gives it; nothing where that says nothing. */
function leakCell({ leakProduct, leakSquare, error2, passes }: Sums): string {
  const noise = Math.sqrt(error2 / passes / leakSquare);
  if (!(noise < WORST_LEAK_NOISE)) return '-';
  return `${(100 * Math.abs(leakProduct / leakSquare)).toFixed(1)}±${(100 * noise).toFixed(1)}`;
}

/** Adds one pass; axes that were not told apart from others are left out. */
function add(sums: Record<Axis, Sums>, measured: MeasuredPass, noisePx: number): void {
  const { pass, motion, scores } = measured;
  const refused = motion.mode === 'full' && motion.observable === 'no';
  if (refused) return;
  const truth = trueVibration(measured);
  const found = measuredVibration(measured);
  const isStray = 'isStray' in pass ? (pass as StrayPass).isStray : null;
  const outside = Uint8Array.from(pass.onSubject, (on, i) => (on || isStray?.[i] ? 1 : 0));
  // A camera that does not travel knows no depths, so the bound of all six axes does not apply to it.
  const bound =
    motion.mode === 'full'
      ? cramerRaoBound(
          { ...pass, onSubject: outside },
          {
            noisePx,
            grossShare: DEFAULTS.grossShare,
            rateHz: motion.rateHz,
            cutoffHz: motion.bandHz[0],
            trimFrames: motion.trimFrames,
          },
        )
      : null;
  const perMetre = motion.depth?.meanInverse ?? 0;
  for (const axis of AXES) {
    const { status, ci95, below } = motion.axes[axis];
    if (status === 'notObservable') continue;
    const s = sums[axis];
    const { trueRms, errorRms } = scores[axis];
    s.passes++;
    s.error2 += errorRms ** 2;
    s.true2 += trueRms ** 2;
    s.bound2 += (bound?.[axis] ?? 0) ** 2;
    const [low, high] = status === 'below' ? [0, below] : (ci95 ?? [NaN, NaN]);
    if (low <= trueRms && trueRms <= high) s.inside++;
    const rival = ALIKE[axis];
    // A turn is alike to a translation of itself over the mean inverse depth.
    const factor = axis === 'pan' || axis === 'tilt' ? perMetre : 1 / perMetre;
    found[axis].forEach((v, t) => {
      s.measured2 += v ** 2 / found[axis].length;
      s.product += (v * truth[axis][t]) / found[axis].length;
      if (!rival || perMetre === 0) return;
      const alike = factor * truth[rival][t];
      s.leakProduct += (v - truth[axis][t]) * alike;
      s.leakSquare += alike ** 2;
    });
  }
}
