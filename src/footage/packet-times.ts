/** Time stamps of the packets of a clip's picture, in seconds as the container counts them: its start, its end, samples between. */
import { askFfprobe } from './ask-ffprobe.js';
import { decimal } from './stream-facts.js';
import type { Tools } from './types.js';

/** Packet times of this much of the clip decide whether the rate is variable. */
const HEAD_S = 20;
/** A look into the clip further on. */
const LOOK_S = 2;
/** Later than any clip ends. Seeking there leads to the last picture that can be decoded by itself. */
const BEYOND_S = 1e9;
/** Containers without an index may have to be read through for their end; one this slow is left alone. */
const END_WITHIN_MS = 30_000;

/** Packets of a stretch of the clip, in the order of the file. Those that are not shown (edit lists) are left out. */
export interface PacketTimes {
  /** When each is shown; when each is decoded where the container does not know that of all. */
  readonly timeS: readonly number[];
  /** Whether times of showing are known. */
  readonly areShown: boolean;
  /** When the last of them in time is over, as far as the container tells; null without a time stamp. */
  readonly endS: number | null;
  /** Whether the last of them in time has a length of its own. */
  readonly endIsStated: boolean;
}

/** Whether the first packets are all there are: they end before the time that was asked for. */
export function areAll({ timeS }: PacketTimes): boolean {
  // Of slow motion there may be more than a call takes arguments.
  const latestS = timeS.reduce((a, b) => Math.max(a, b), -Infinity);
  const earliestS = timeS.reduce((a, b) => Math.min(a, b), Infinity);
  return timeS.length > 0 && latestS - earliestS < HEAD_S - 1;
}

/** The first packets: 20 s of them. */
export function firstPackets(file: string, tools: Tools): Promise<PacketTimes> {
  return packets(file, `%+${HEAD_S}`, tools);
}

/** The last packets, from the last picture on that can be decoded by itself; none where they cannot be reached. */
export function lastPackets(file: string, tools: Tools): Promise<PacketTimes> {
  return packets(file, `${BEYOND_S}%`, tools, END_WITHIN_MS);
}

/** Packets after each of some moments, as the container counts time; none where they cannot be reached. */
export async function packetsAfter(
  file: string,
  moments: readonly number[],
  tools: Tools,
): Promise<readonly (readonly number[])[]> {
  const looks: (readonly number[])[] = [];
  for (const atS of moments) {
    looks.push((await packets(file, `${atS.toFixed(3)}%+${LOOK_S}`, tools, END_WITHIN_MS)).timeS);
  }
  return looks;
}

async function packets(
  file: string,
  interval: string,
  tools: Tools,
  withinMs?: number,
): Promise<PacketTimes> {
  const entries = ['-show_entries', 'packet=pts_time,dts_time,duration_time,flags', '-of', 'compact=p=0'];
  const question = ['-select_streams', 'V:0', '-read_intervals', interval, ...entries];
  const { stdout } = await askFfprobe(file, question, tools, withinMs);
  const said = stdout
    .split('\n')
    .map((line) => new Map(line.split('|').map((part) => part.trim().split('=') as [string, string])))
    .filter((one) => one.has('pts_time') && !one.get('flags')?.includes('D'));
  const haveTime = said.map((one) => decimal(one.get('pts_time')) !== null);
  const areShown = haveTime.includes(true);
  // AVI with B frames: some are left without a time of showing. Those of decoding are as many and as far apart.
  const areGappy = haveTime.includes(false) && said.every((one) => decimal(one.get('dts_time')) !== null);
  const timeS: number[] = [];
  let lastS = -Infinity;
  let lengthS: number | null = null;
  for (const one of said) {
    const atS = decimal(one.get(areShown && !areGappy ? 'pts_time' : 'dts_time'));
    if (atS === null) continue;
    timeS.push(atS);
    if (atS >= lastS) {
      lastS = atS;
      lengthS = decimal(one.get('duration_time'));
    }
  }
  const endS = timeS.length > 0 ? lastS + (lengthS ?? 0) : null;
  return { timeS, areShown, endS, endIsStated: lengthS !== null && lengthS > 0 };
}
