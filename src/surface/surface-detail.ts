/** Everything that is read from a graded pass beside its roughness: profile, list of bumps, waves, grades, the setup of the pass. */
import type { Motion } from '../motion/index.js';
import type { Rig } from '../run/index.js';
import type { Pass } from './deck/pass.js';
import { rearAtS, type RolledDeck } from './deck/rolled-deck.js';
import { shakeOf } from './deck/shake.js';
import type { NoisySeries } from './deck/lens-path.js';
import type { FoundEvents } from './events/find-events.js';
import { listEvents } from './events/list-events.js';
import { profileWithEvents } from './events/profile-with-events.js';
import type { FloorEvent } from './events/types.js';
import { flatness } from './grades/flatness.js';
import { againstRailLimit } from './grades/rail-limit.js';
import { isRoughest, spokenGrade, type SpokenGrade } from './grades/spoken.js';
import { straightedges } from './grades/straightedge.js';
import { texture } from './grades/texture.js';
import { wavelengthBands } from './grades/wavelength-bands.js';
import type { PresentSetup } from './predict/changed-setups.js';
import type { MeasuredShake } from './predict/types.js';
import { levelsOf, type FittedPass } from './roughness/pass-fit.js';
import type { RoughnessGrade } from './roughness/roughness-grade.js';
import type { ListedEvent, SurfaceDetail, SurfaceOptions, SurfaceView } from './types.js';

/** A graded pass. */
export interface GradedPass {
  readonly motion: Motion;
  readonly rig: Rig;
  readonly pass: Pass;
  /** Front axle placed as fitted; as it rolled, without the tones of machines, and without joints and bumps. */
  readonly deck: RolledDeck;
  readonly quiet: RolledDeck;
  readonly cleaned: RolledDeck;
  /** Fits of the deck as it rolled, and without joints and bumps. */
  readonly asRolled: FittedPass;
  readonly between: FittedPass;
  readonly events: FoundEvents;
  readonly grade: RoughnessGrade;
  readonly noiseTrust: number;
  readonly distanceRange: number;
}

/** Reads the detail off a graded pass. */
export function surfaceDetail(graded: GradedPass, options: SurfaceOptions): SurfaceDetail {
  const { deck, quiet, cleaned, asRolled, between, events, grade, noiseTrust } = graded;
  const levels = levelsOf(between);
  const list = listed(graded, options.view ?? null);
  // A floor that drowns in the noise has no level to smooth its profile by.
  const drowned = grade.atMost && grade.gdAsRolledM3 === null;
  const profile = drowned ? null : profileWithEvents(quiet, levels, list, events.scan?.blurM ?? 0);
  const bands = wavelengthBands({
    asRolled: { deck, fitted: asRolled },
    betweenJoints: quiet === deck && events.releases.length === 0 ? null : { deck: cleaned, fitted: between },
    noiseTrust,
  });
  const roughness = { betweenJointsM3: grade.gdM3, asRolledM3: grade.gdAsRolledM3 };
  const [shortestM, longestM] = grade.wavelengthsM;
  const band = [shortestM, longestM] as const;
  const present = presentSetup(graded, options.view ?? null);
  return {
    levels,
    profile,
    events: list,
    row: events.row,
    distanceRange: graded.distanceRange,
    bands,
    rail: againstRailLimit(bands),
    flatness: profile === null ? null : flatness(profile, band, roughness),
    straightedges: profile === null ? [] : straightedges(profile, band),
    texture: profile === null ? null : texture(profile, band),
    spoken: spokenOf(grade, list),
    present,
    measured: measuredShake(deck, present),
    runLengthM: deck.rearM[deck.rearM.length - 1] - deck.rearM[0],
    frontAheadM: deck.frontAheadM,
    otherSurfaces: options.otherSurfaces ?? [],
  };
}

function listed({ motion, pass, quiet, events }: GradedPass, view: SurfaceView | null): ListedEvent[] {
  if (events.scan === null) return [];
  const list = listEvents({
    scan: events.scan,
    found: events.found,
    row: events.row,
    deck: quiet,
    view: view && {
      ...view,
      azimuthRad: pass.mounting.azimuthRad,
      cutoffHz: motion.bandHz[0],
      medianDepthM: motion.translationUnit === 'm' ? (motion.depth?.median ?? null) : null,
    },
  });
  return list.map((event: FloorEvent) => ({ ...event, axlesS: axleTimes(quiet, event.atM) }));
}

/** The word is for the floor as rolled: none where a bound between joints is all that is known of it, or where it bounds nothing. */
function spokenOf(
  { gdM3, gdAsRolledM3, atMost, atLeast }: RoughnessGrade,
  list: readonly ListedEvent[],
): SpokenGrade | null {
  if (atLeast || (gdAsRolledM3 === null && list.length > 0)) return null;
  const spoken = spokenGrade(Math.max(gdM3, gdAsRolledM3 ?? 0), atMost);
  return atMost && isRoughest(spoken.word) ? null : spoken;
}

/** When the front and the rear axle are over a place, seconds from the container; only what lies within the pass. */
function axleTimes(deck: RolledDeck, atM: number): number[] {
  return [atM - deck.frontAheadM, atM].flatMap((rearM) => rearAtS(deck, rearM) ?? []);
}

/** Setup of this pass; shake counts in the vibration band of the run, whatever slower waves the surface is read to. */
function presentSetup(
  { motion, rig, pass, deck, grade }: GradedPass,
  view: SurfaceView | null,
): PresentSetup {
  return {
    setup: {
      speedMps: grade.speedMps,
      rateHz: motion.rateHz,
      exposureS: deck.exposureS,
      cutoffHz: motion.bandHz[0],
      wheelbaseM: deck.wheelbaseM,
      trackWidthM: deck.trackWidthM,
      wheel: { diameterFactor: 1, contactCyclesPerM: null, contactFactor95: 1 },
      azimuthRad: pass.mounting.azimuthRad,
      view,
    },
    focalLengthMm: rig.focalLengthMm ?? null,
    wheelDiameterM: rig.wheelDiameterM ?? null,
  };
}

/** Sd of ln of the RMS of a pass, beyond its noise: passes over the same floor differ by a few per cent. */
const MEASURED_SD_LN = 0.05;

function measuredShake(deck: RolledDeck, { setup }: PresentSetup): MeasuredShake {
  const rmsOf = (series: NoisySeries | null): number | null =>
    series && shakeOf(series, deck.rateHz, setup.cutoffHz).rms;
  return {
    setup,
    pitchRadRms: rmsOf(deck.pitchRad),
    rollRadRms: rmsOf(deck.rollRad),
    heaveMRms: rmsOf(deck.heaveM),
    sdLn: MEASURED_SD_LN,
  };
}
