/** Damages the bytes of a clip in one to four steps, blindly or aimed at what its container states; a seed says how. */
import { seededRandom } from '../../src/numerics/index.js';
import type { Layout, SoundClip } from './corpus.js';
import { boxesOf, chunksOf, elementsOf, type Part } from './parts.js';

/** A damaged clip. */
export interface Mutant {
  readonly bytes: Buffer;
  /** What was done, in order. */
  readonly steps: readonly string[];
}

type Dice = ReturnType<typeof diceOf>;
type Step = (bytes: Buffer, dice: Dice, others: readonly SoundClip[]) => readonly [Buffer, string] | null;

/** Numbers at the ends of what fits, and next to them. */
const EXTREMES = [0, 1, 2, 0x7f, 0x80, 0xff, 0x7fff, 0x8000, 0xffff, 0x10000, 0xffffff];
const WIDE_EXTREMES = [...EXTREMES, 0x7ffffffe, 0x7fffffff, 0x80000000, 0xfffffffe, 0xffffffff];

/** Types of parts whose numbers decide on time, order, place and look. */
const TELLING = new Set([
  ...['stts', 'stsz', 'stco', 'co64', 'stsc', 'stss', 'ctts', 'mdhd', 'mvhd', 'tkhd', 'elst', 'stsd'],
  ...['trun', 'tfhd', 'tfdt', 'sidx', 'trex', 'hdlr', 'avih', 'strh', 'strf', 'idx1'],
  // Scale, default duration, duration, track number and type, sizes as stored and shown, cluster time, block.
  ...['2ad7b1', '23e383', '4489', 'd7', '83', 'b0', 'ba', '54b0', '54ba', 'e7', 'a3', '86', '63a2'],
]);

const FOUR_LETTERS = ['free', 'mdat', 'moov', 'trak', 'avc1', 'hev1', 'mp4v', 'jpeg', 'rle ', 'raw ', 'tmcd'];

function diceOf(seed: number, index: number) {
  // Neighbouring cases have seeds far from each other.
  const random = seededRandom((Math.imul(seed, 0x9e3779b1) ^ Math.imul(index + 1, 0x85ebca6b)) >>> 0);
  const below = (count: number): number => Math.floor(random() * count);
  return {
    below,
    chance: (share: number): boolean => random() < share,
    pick: <T>(from: readonly T[]): T => from[below(from.length)],
    /** Small lengths as often as large ones. */
    length: (most: number): number => Math.max(1, Math.floor(2 ** (random() * Math.log2(Math.max(2, most))))),
  };
}

/**
 * The damaged clip of a case.
 * @param others whole corpus, for clips that are joined
 */
export function mutate(clip: SoundClip, others: readonly SoundClip[], seed: number, index: number): Mutant {
  const dice = diceOf(seed, index);
  const steps: string[] = [];
  let bytes: Buffer = Buffer.from(clip.bytes);
  const wanted = 1 + dice.below(4) * dice.below(2);
  for (let tries = 0; steps.length < wanted && tries < 40; tries++) {
    const aimed = clip.layout !== 'plain' && dice.chance(0.6);
    const done = dice.pick(aimed ? AIMED[clip.layout] : BLIND)(bytes, dice, others);
    if (!done || done[0].equals(bytes)) continue;
    bytes = done[0];
    steps.push(done[1]);
  }
  return { bytes, steps };
}

/** A place in the file: half the time in the first kilobytes, where most of what is stated stands. */
function somewhere(bytes: Buffer, dice: Dice): number {
  return dice.below(dice.chance(0.5) ? Math.min(2048, bytes.length) : bytes.length);
}

const flipBits: Step = (bytes, dice) => {
  const count = dice.length(40);
  for (let i = 0; i < count; i++) bytes[somewhere(bytes, dice)] ^= 1 << dice.below(8);
  return [bytes, `flips ${count} bits`];
};
const overwrite: Step = (bytes, dice) => {
  const count = dice.length(40);
  for (let i = 0; i < count; i++) bytes[somewhere(bytes, dice)] = dice.below(256);
  return [bytes, `overwrites ${count} bytes`];
};
const fill: Step = (bytes, dice) => {
  const at = somewhere(bytes, dice);
  const count = Math.min(bytes.length - at, dice.length(bytes.length / 2));
  const value = dice.pick([0, 0xff]);
  return [Buffer.from(bytes).fill(value, at, at + count), `fills ${count} bytes at ${at} with ${value}`];
};
const cutOut: Step = (bytes, dice) => {
  const at = somewhere(bytes, dice);
  const count = Math.min(bytes.length - at - 1, dice.length(bytes.length / 2));
  return [Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + count)]), `cuts ${count} bytes at ${at}`];
};
const insert: Step = (bytes, dice) => {
  const at = somewhere(bytes, dice);
  const strange = Buffer.from(Array.from({ length: dice.length(5000) }, () => dice.below(256)));
  const joined = Buffer.concat([bytes.subarray(0, at), strange, bytes.subarray(at)]);
  return [joined, `inserts ${strange.length} bytes at ${at}`];
};
const double: Step = (bytes, dice) => {
  const at = somewhere(bytes, dice);
  const piece = bytes.subarray(at, at + dice.length(bytes.length / 2));
  return [
    Buffer.concat([bytes.subarray(0, at), piece, bytes.subarray(at)]),
    `doubles ${piece.length} bytes at ${at}`,
  ];
};
const swap: Step = (bytes, dice) => {
  const [a, b, c] = [0, 0, 0].map(() => somewhere(bytes, dice)).sort((x, y) => x - y);
  const pieces = [
    bytes.subarray(0, a),
    bytes.subarray(b, c),
    bytes.subarray(a, b),
    bytes.subarray(c),
  ] as const;
  return [Buffer.concat(pieces), `swaps the pieces ${a}-${b} and ${b}-${c}`];
};
const cutShort: Step = (bytes, dice) => {
  const length = 1 + dice.below(bytes.length);
  return [Buffer.from(bytes.subarray(0, length)), `ends after ${length} bytes`];
};
const join: Step = (bytes, dice, others) => {
  const other = dice.pick(others);
  return dice.chance(0.5)
    ? [Buffer.concat([bytes, other.bytes]), `is followed by ${other.name}`]
    : [Buffer.concat([other.bytes, bytes]), `follows ${other.name}`];
};
const digits: Step = (bytes, dice) => {
  const head = bytes.toString('latin1', 0, 400);
  const runs = [...head.matchAll(/\d+/g)];
  if (runs.length === 0) return null;
  const { index, 0: old } = dice.pick(runs);
  const put = String(dice.pick([...WIDE_EXTREMES, -1, 99999, 16384]));
  const changed = head.slice(0, index) + put + head.slice(index + old.length);
  return [
    Buffer.concat([Buffer.from(changed, 'latin1'), bytes.subarray(400)]),
    `writes ${put} for the digits ${old}`,
  ];
};

const BLIND: readonly Step[] = [
  ...[flipBits, overwrite, flipBits, overwrite, fill, cutOut, insert, double, swap, cutShort, join, digits],
];

function aimedAt(partsOf: (bytes: Buffer) => Part[], isLittleEndian: boolean): readonly Step[] {
  const partWith = (bytes: Buffer, dice: Dice, wanted: (part: Part) => boolean): Part | null => {
    const parts = partsOf(bytes).filter(wanted);
    if (parts.length === 0) return null;
    const telling = parts.filter((part) => TELLING.has(part.type));
    // One type after the other: a clip has hundreds of blocks and one header.
    const from = telling.length > 0 && dice.chance(0.7) ? telling : parts;
    const type = dice.pick([...new Set(from.map((part) => part.type))]);
    return dice.pick(from.filter((part) => part.type === type));
  };
  const write = (bytes: Buffer, at: number, count: number, value: number): Buffer => {
    const changed = Buffer.from(bytes);
    for (let i = 0; i < count; i++) {
      const place = isLittleEndian ? at + i : at + count - 1 - i;
      changed[place] = Math.floor(value / 256 ** i) % 256;
    }
    return changed;
  };
  const number: Step = (bytes, dice) => {
    const part = partWith(bytes, dice, ({ payloadAt, end, isFolder }) => !isFolder && end > payloadAt);
    if (!part) return null;
    const room = part.end - part.payloadAt;
    const width = dice.pick([4, 4, 4, 2, 8, 1].filter((wide) => wide <= room));
    const at = part.payloadAt + width * dice.below(Math.min(64, Math.floor(room / width)));
    const value = dice.chance(0.7) ? dice.pick(WIDE_EXTREMES) : dice.below(2 ** 32);
    const changed = write(bytes, at, Math.min(4, width), value);
    return [changed, `writes ${value} at ${at - part.payloadAt} of ${part.type}`];
  };
  const size: Step = (bytes, dice) => {
    const part = partWith(bytes, dice, () => true);
    if (!part) return null;
    const old = part.end - part.at;
    const value = Math.max(0, dice.pick([...WIDE_EXTREMES, old - 1, old + 1, old * 2, old + 8, old - 8]));
    const changed = write(bytes, part.sizeAt, part.sizeBytes, value);
    // The leading bits of an EBML size say how long it is.
    if (part.typeAt === part.at && !isLittleEndian && dice.chance(0.8)) {
      const marker = 0x100 >> part.sizeBytes;
      changed[part.sizeAt] = (changed[part.sizeAt] & (marker - 1)) | marker;
    }
    return [changed, `states ${value} as the size of ${part.type}`];
  };
  const type: Step = (bytes, dice) => {
    const part = partWith(bytes, dice, () => true);
    if (!part) return null;
    const changed = Buffer.from(bytes);
    if (part.typeBytes === 4 && dice.chance(0.5))
      changed.write(dice.pick(FOUR_LETTERS), part.typeAt, 'latin1');
    else changed[part.typeAt + dice.below(part.typeBytes)] ^= 1 << dice.below(7);
    return [changed, `renames a part ${part.type}`];
  };
  const remove: Step = (bytes, dice) => {
    const part = partWith(bytes, dice, () => true);
    if (!part) return null;
    const left = Buffer.concat([bytes.subarray(0, part.at), bytes.subarray(part.end)]);
    return [left.length > 0 ? left : bytes, `removes a part ${part.type}`];
  };
  const repeat: Step = (bytes, dice) => {
    const part = partWith(bytes, dice, () => true);
    if (!part) return null;
    const pieces = [bytes.subarray(0, part.end), bytes.subarray(part.at)];
    return [Buffer.concat(pieces), `doubles a part ${part.type}`];
  };
  return [number, number, number, number, size, size, type, remove, repeat];
}

const AIMED: Readonly<Record<Exclude<Layout, 'plain'>, readonly Step[]>> = {
  boxes: aimedAt(boxesOf, false),
  ebml: aimedAt(elementsOf, false),
  riff: aimedAt(chunksOf, true),
};
