/** Words of the section on the floor or rail: what it is and what to do about it, the list of bumps, the profile, the figures in short. */
import type { SurfaceBump } from '../../run/index.js';

type Kind = SurfaceBump['kind'];
const PLURALS: Record<Kind, string> = { joint: 'joints', step: 'steps', bump: 'bumps', dip: 'dips' };

/** @example listed(['a', 'b', 'c']) // "a, b and c" */
function listed(parts: readonly string[]): string {
  return parts.length < 2
    ? (parts[0] ?? '')
    : `${parts.slice(0, -1).join(', ')} and ${parts[parts.length - 1]}`;
}

function counted(kind: Kind, count: number): string {
  return `${count} ${count === 1 ? kind : PLURALS[kind]}`;
}

const all = (count: number): string => (count === 2 ? 'Both' : `All ${count}`);
const them = (count: number): string => (count === 1 ? 'it' : 'them');

/** Words of the section. */
export const floorTexts = {
  heading: 'Floor or rail',
  steadinessOnly: 'The grade describes picture steadiness only; it is no statement on structural safety.',

  /** What the floor is. */
  word: (word: string, orBetter: boolean): string =>
    `As rolled, this floor is “${word}”${orBetter ? ' or better' : ''} on our own scale`,
  class: (words: string): string => `This floor is of class ${words}`,
  unnamed: 'This floor has no class',
  smooth: (what: string): string => `${what}: no joint, step or bump stands out of its roughness.`,
  hidden: (what: string): string =>
    `${what}: joints and bumps cannot be seen in this pass, since the pitch of the deck does not show.`,
  /** @param counts how many of each kind; @param spacing of the row of joints, null without one */
  with: (what: string, counts: readonly (readonly [Kind, number])[], spacing: string | null): string =>
    `${what}, with ${listed(
      counts.map(([kind, count]) =>
        kind === 'joint' && spacing !== null
          ? `${counted(kind, count)} (a row, one every ${spacing})`
          : counted(kind, count),
      ),
    )}.`,
  /** What to do about it. */
  shim: (worth: number, of: number): string =>
    of === 1
      ? 'It kicks the picture by more than 1 px and is worth a shim'
      : worth === of
        ? `${all(of)} kick the picture by more than 1 px and are worth a shim`
        : `${worth} of them ${worth === 1 ? 'kicks' : 'kick'} the picture by more than 1 px and ${worth === 1 ? 'is' : 'are'} worth a shim`,
  withinLimits: (worth: number, of: number): string =>
    `${of === 1 ? 'It kicks' : worth === of ? `${all(of)} kick` : `${worth} of them ${worth === 1 ? 'kicks' : 'kick'}`} the picture by more than 1 px, and this pass keeps its limits all the same`,
  noShim: (of: number): string =>
    `${of === 1 ? 'It does not kick' : 'None of them kicks'} the picture by more than 1 px, so there is nothing to shim`,
  kicksUnknown: 'How hard they kick the picture is not known; shim the highest first',
  worst: (place: string, timecode: string, bump: string): string =>
    `the worst is No. 1 at ${place} (${timecode}): ${bump}.`,

  /** Not graded. */
  notGiven: (names: readonly string[], options: readonly string[]): string =>
    `Not graded, because the ${listed(names)} ${names.length === 1 ? 'was' : 'were'} not given: measure the clip again with ${listed(options)}.`,
  notGraded: (reason: string | null): string => (reason === null ? 'Not graded.' : `Not graded: ${reason}`),
  inputs: {
    speed: { name: 'speed', option: '--speed 20cm/s (or --travel 3.2m)' },
    wheelbase: { name: 'wheelbase', option: '--wheelbase 450mm' },
    trackWidth: { name: 'track width', option: '--track-width 400mm' },
    cameraHeight: { name: 'height of the camera', option: '--camera-height 0.9m' },
    azimuth: { name: 'direction of the lens', option: '--lens-azimuth 0 (looking ahead; 90: to the right)' },
  },

  /** The strip. */
  stripCaption: 'The run from above',
  stripFor: 'where to put the shims: measure from the start, or wind to the timecode',
  stripOfSmooth: 'how much each wheel line rises and falls, place by place',
  stripNumbers: (numbered: number): string => `Numbers 1 to ${numbered} as in the list below, worst first.`,
  stripNoHeights: 'Heights along the lines are not known in this pass, so the lines have no shades.',

  /** The list of bumps. */
  row: (count: number, spacing: string, within: string, first: string, steps: string): string =>
    `The ${count} joints of the row lie one every ${spacing} (within ${within}), the first at ${first}; the plates differ by ${steps} RMS under a wheel line.`,
  rowSeen: (seen: number, count: number): string =>
    seen >= count
      ? 'Each of them stands out by itself.'
      : `${seen} of them stand out by themselves, the rest is listed because the row is there.`,
  distances: (percent: string, perMetre: string): string =>
    `Distances are as good as the speed or travel that was given, about ${percent} % here, or ${perMetre} on 1 m. The ± of a place leaves that out.`,
  bumpsCaption: 'Joints, steps and bumps, worst first',
  otherBumps: (count: number): string => `the other ${count} joints and bumps`,
  heads: {
    number: 'No.',
    at: 'At',
    timecode: 'Timecode',
    what: 'What',
    left: 'Left line',
    right: 'Right line',
    kick: 'Kick',
    sure: 'Sure',
  },
  sides: (left: string, right: string): string => `left ${left}, right ${right}`,
  place: (place: string, within: string): string => `${place} ± ${within}`,
  sure: (percent: number, byRow: boolean): string => `${percent} %${byRow ? ', by the row' : ''}`,
  sureShort: (words: string): string => `sure to ${words}`,
  passage: (timecode: string, axle: 'front' | 'rear' | null): string =>
    axle === null ? timecode : `${timecode} ${axle}`,
  listNote:
    'Worst first by height under a wheel line. A joint belongs to a row at even distances, a step stands alone; a dip is what this wheel sees of a gap. Timecode: when the axle beside it is over it, the rear one where the front one passed before the clip. Kick: the largest shift anywhere in the frame, in px of the delivery, before any stabilising.',
  meansOnly:
    'Heights are means of both wheel lines, where up on one side cancels down on the other: give the track width (--track-width) to see each.',

  /** How the hits of the crop section and this list go together. */
  noHits: (of: number): string =>
    of === 1
      ? 'It is no hit in the crop of longer takes: it does not stand out of the shake around it.'
      : 'None of them is a hit in the crop of longer takes: no kick stands out of the shake around it, so all belong to its steady shake.',
  /** @param numbers of the bumps in the list that made the hits; each hit is one axle over a bump, or both of them */
  hits: (hits: number, numbers: readonly number[], of: number): string => {
    const n = numbers.length;
    const one = n === 1;
    const who =
      of === 1
        ? 'It kicks'
        : one
          ? `Only No. ${numbers[0]} kicks`
          : n === of
            ? `${all(of)} kick`
            : `Of these ${of}, ${n} (No. ${listed(numbers.map(String))}) kick`;
    const counted = one ? 'that it counts as a hit' : 'that they count as hits';
    const apart =
      hits === n ? '' : ` (${hits} hits there: axles that pass too unevenly to be paired count one by one)`;
    const others = of - n;
    const rest =
      others === 0
        ? ''
        : `; the other${others === 1 ? '' : ` ${others}`} ${others === 1 ? 'belongs' : 'belong'} to its steady shake`;
    return `${who} the picture so far above the shake around ${them(n)} ${counted} in the crop of longer takes${apart}${rest}.`;
  },
  otherHits: (hits: number): string =>
    `The ${hits === 1 ? '1 hit' : `${hits} hits`} in the crop of longer takes ${hits === 1 ? 'is' : 'are'} counted in another way: any sudden kick of the picture that stands out of the shake around it, whatever made it. A joint among others as high is none.`,
  hitsWithoutBumps: (hits: number): string =>
    `The crop of longer takes counts ${hits === 1 ? '1 hit' : `${hits} hits`}, a sudden kick of the picture; nothing that lies on the floor was found for ${them(hits)}.`,

  /** The profile. */
  profileCaption: 'Profile along the run',
  profileHere: (rise: string, rms: string | null, withBumps: boolean): string =>
    `${rise} between the highest and the lowest place${rms === null ? '' : `, ${rms} RMS${withBumps ? ' between joints and bumps' : ''}`}`,
  profileWaves: (shortest: string, longest: string): string =>
    `Waves shorter than ${shortest} and longer than ${longest} are not in it: a slow rise or sag of the floor does not show.`,
  profileTable: 'profile (thinned; all of it is in run.json)',
  profileHeads: (place: string, height: string): readonly string[] => [
    `Distance, ${place}`,
    `Mean, ${height}`,
    `95 % within, ${height}`,
    `Left, ${height}`,
    `Right, ${height}`,
  ],

  /** For engineers. */
  engineers: 'For engineers: figures in short, waves, grades of standards, other setups',
  wavesCaption: 'Waves of one wheel track',
  wavesBands: 'one-third-octave bands',
  wavesLegend:
    'Thick: as rolled, with its 95 % range. Fine dashes: without joints and bumps. Long dashes: limit curve of EN ISO 3095:2013, made for railway rails.',
  wavesTable: 'roughness in bands of wavelength, dB re 1 µm',
  wavesHeads: (unit: string): readonly string[] => [
    `Wavelength, ${unit}`,
    'As rolled',
    'Without bumps',
    '95 % within',
    'Rail limit',
  ],
  below: (level: string): string => `below ${level}`,
  inShort: {
    word: 'In a word',
    ownWord: (word: string, orBetter: boolean): string =>
      `${word}${orBetter ? ' or better' : ''} (our own word; as rolled, joints counted)`,
    class: 'Class',
    classWords: (words: string | null): string =>
      `${words ?? 'none'}, ISO 8608-style; steps under A are our own, not the standard's`,
    waves: 'Holds for waves',
    wavesWords: (from: string, to: string): string => `${from} to ${to} m long`,
    height: 'Height, RMS',
    heightWords: (rms: string): string => `${rms} mm within these waves, between joints`,
    roughness: 'Roughness',
    roughnessWords: (
      level: string,
      bound: 'most' | 'least' | null,
      range: readonly [string, string] | null,
      withoutBumps: boolean,
    ): string =>
      `${bound === null ? '' : `at ${bound} `}${level} m³ at 0.1 cycle/m${range === null ? '' : ` (${range[0]} to ${range[1]})`}, ${withoutBumps ? 'joints and bumps left out' : 'no joints found'}, equivalent at w = 2`,
    asRolled: 'As rolled',
    asRolledWords: (level: string): string => `${level} m³, with everything that shook the deck`,
    slope: 'Slope of the spectrum',
    slopeWords: (w: string, range: readonly [string, string] | null): string =>
      `w = ${w}${range === null ? '' : ` (${range[0]} to ${range[1]})`}; the classes are made for 2`,
  },

  /** Lines of plain text. */
  lines: {
    graded: (word: string | null, classWords: string): string =>
      `Floor: ${word === null ? '' : `${word}; `}class ${classWords}, ISO 8608-style.`,
    notGraded: (reason: string | null): string => `Floor: ${reason ?? 'not graded.'}`,
    row: (count: number, spacing: string, steps: string): string =>
      `A row of ${count} joints, every ${spacing}, steps of ${steps} RMS.`,
    bump: (place: string, timecode: string, bump: string, kick: string | null): string =>
      `${place} (${timecode}): ${bump}${kick === null ? '' : `; kicks the picture by ${kick}`}`,
    more: (count: number): string => `${count} more in the report.`,
    distances: (percent: string): string => `Distances from the rear axle at the start, within ${percent} %.`,
    laidOver: (label: string, times: string, low: string, high: string): string =>
      `On ${label}: ${times} times this shake (${low} to ${high}).`,
    notForetold: (label: string, reason: string | null): string =>
      `On ${label}: not foretold. ${reason ?? ''}`,
  },
} as const;
