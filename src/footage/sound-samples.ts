/** Samples of the sound of a clip, one channel, placed in seconds from the first frame of the picture, full scale -1..1. */
import type { Warning } from '../run/index.js';
import { soundWarningTexts } from '../texts/index.js';
import { checkRange } from './clip-range.js';
import { ffmpegPath } from './clip-path.js';
import { faultIn, refuseIfAborted, startFfmpeg, stopOnAbort } from './ffmpeg-job.js';
import type { ClipFacts, SoundStream, Tools } from './types.js';

/** Samples of one channel, evenly spaced, -1..1; sample 0 is heard at `startS` of the clip, whose 0 is its first frame. */
export interface SoundSamples {
  readonly rateHz: number;
  readonly startS: number;
  readonly samples: Readonly<Float32Array>;
}

/** What to read; everything has a default. */
export interface SoundOptions {
  /** First moment wanted, seconds from the first frame; default 0. */
  readonly inS?: number | undefined;
  /** End of the range; default, and where it lies beyond the end, the end of the clip. */
  readonly outS?: number | undefined;
  /** Samples per second, 4000..48000; default {@link SOUND_RATE_HZ}. */
  readonly rateHz?: number | undefined;
  readonly signal?: AbortSignal | undefined;
  /** Codes: sound-unusable (then nothing is given), sound-shortened (then the middle of the range is). */
  readonly onWarning?: ((warning: Warning) => void) | undefined;
}

/** Default of `rateHz`: hiss of rolling and ticks of joints reach some kHz. */
export const SOUND_RATE_HZ = 16_000;
/** Most that is read, from the middle of the range: 7.7 MB a channel at the default rate. */
export const LONGEST_SOUND_S = 120;

const MAX_STREAMS = 4;
const MAX_CHANNELS = 8;
/** Peak over RMS below this is timecode recorded as sound (about 1.3) or a tone for lining up (1.41); noise has about 4. */
const SIGNAL_CREST = 1.6;

const BYTES = Float32Array.BYTES_PER_ELEMENT;

/**
 * The loudest channel of the sound of a clip in a range.
 *
 * Channels are not mixed, for a second microphone may stand elsewhere, be dead or turned round; one that carries
 * timecode or a pure tone, recorded as signals and not by a microphone, is passed over. Sound may begin later or end earlier than the range: then `startS` and the
 * length say so; holes within are silence. Of a range longer than {@link LONGEST_SOUND_S} its middle is read.
 *
 * @returns null for a clip without sound in the range, and for sound that cannot be decoded, which is a warning: a
 * measurement does not end for its sound
 * @throws TrundleError 'range-invalid', 'interrupted'
 */
export async function readSound(
  facts: ClipFacts,
  options: Readonly<SoundOptions>,
  tools: Tools,
): Promise<SoundSamples | null> {
  const { signal, rateHz = SOUND_RATE_HZ, onWarning = () => {} } = options;
  if (!(rateHz >= 4000 && rateHz <= 48_000))
    throw new RangeError(`rateHz must lie in 4000..48000, got ${rateHz}`);
  const { inS, endS } = checkRange(facts.file, facts, options);
  if (facts.sound.length === 0) return null;
  const asked = { rateHz, fromS: inS, toS: endS };
  // Where no end is known, what lies beyond the longest stretch is not read.
  const spareS = Number.isFinite(endS) ? Math.max(0, endS - inS - LONGEST_SOUND_S) : 0;
  if (spareS > 0) {
    asked.fromS += spareS / 2;
    asked.toS -= spareS / 2;
    onWarning({
      code: 'sound-shortened',
      text: soundWarningTexts.shortened(LONGEST_SOUND_S),
      atS: asked.fromS,
    });
  }
  let loudest: Channel | null = null;
  let fault: string | null = null;
  let hasSignals = false;
  for (const [index, stream] of facts.sound.slice(0, MAX_STREAMS).entries()) {
    const said = await readStream(facts, stream, index, asked, tools, signal);
    fault ??= said.fault;
    for (const channel of said.channels) {
      if (channel.crest < SIGNAL_CREST) hasSignals = true;
      else if (!loudest || channel.rms > loudest.rms) loudest = channel;
    }
  }
  if (!loudest && (fault !== null || hasSignals)) {
    const why = fault === null ? soundWarningTexts.noSound : soundWarningTexts.notDecoded(fault);
    const text = soundWarningTexts.unusable(why);
    onWarning({ code: 'sound-unusable', text, atS: null });
  }
  return loudest && { rateHz, startS: loudest.startS, samples: loudest.samples };
}

interface AskedSound {
  readonly rateHz: number;
  readonly fromS: number;
  readonly toS: number;
}

interface Channel {
  readonly startS: number;
  readonly samples: Float32Array;
  readonly rms: number;
  /** Largest sample over RMS; Infinity for silence. */
  readonly crest: number;
}

async function readStream(
  facts: ClipFacts,
  stream: SoundStream,
  index: number,
  { rateHz, fromS, toS }: AskedSound,
  tools: Tools,
  signal: AbortSignal | undefined,
): Promise<{ channels: Channel[]; fault: string | null }> {
  refuseIfAborted(signal, facts.file);
  const { channels } = stream;
  if (channels < 1 || channels > MAX_CHANNELS || stream.codec === 'unknown' || stream.codec === 'none') {
    return { channels: [], fault: soundWarningTexts.noDecoder };
  }
  // Asked for earlier than it begins, some containers take the sound to begin just then; so it is not.
  const startS = Math.max(fromS, (stream.startTimeS ?? facts.startTimeS) - facts.startTimeS);
  const durationS = Math.min(toS - startS, LONGEST_SOUND_S);
  if (!(durationS > 0)) return { channels: [], fault: null };
  let fault: string | null = null;
  const seek = ['-seek_timestamp', '1', '-ss', (facts.startTimeS + startS).toFixed(6)];
  const job = startFfmpeg(
    {
      inputOptions: [...seek, '-t', durationS.toFixed(6)],
      input: ffmpegPath(facts.file),
      outputOptions: [
        ...['-map', `0:a:${index}`, '-vn', '-sn', '-dn'],
        ...['-filter:a', `aresample=${rateHz}:async=1:first_pts=0`],
        // Told a number of channels, FFmpeg would mix them into the usual layout of that many.
        ...['-c:a', 'pcm_f32le', '-f', 'f32le'],
      ],
      onLine: (line) => (fault ??= faultIn(line)),
    },
    tools,
  );
  const untie = stopOnAbort(job, signal);
  try {
    const wanted = channels * Math.ceil(durationS * rateHz);
    const interleaved = await take(job.stdout as AsyncIterable<Uint8Array>, wanted);
    // What came before a damaged end is as good as any.
    const ended = interleaved.length < wanted ? await job.done : null;
    refuseIfAborted(signal, facts.file);
    // That holds for what the clip has lost, not for what FFmpeg did not live to give.
    if (job.brokeOff() !== null) return { channels: [], fault: soundWarningTexts.brokeOff };
    const count = Math.floor(interleaved.length / channels);
    if (count === 0)
      return {
        channels: [],
        fault: fault ?? ended?.trim().split('\n').at(-1) ?? soundWarningTexts.noSamples,
      };
    const parts = Array.from({ length: channels }, (_, c) => channelOf(interleaved, c, channels, startS));
    return { channels: parts, fault: null };
  } finally {
    untie();
    job.stop();
    await job.done;
  }
}

/** At most `wanted` samples of a stream of floats, whose bytes are in this machine's order. */
async function take(stream: AsyncIterable<Uint8Array>, wanted: number): Promise<Float32Array> {
  const bytes = new Uint8Array(wanted * BYTES);
  let filled = 0;
  for await (const chunk of stream) {
    const part = chunk.subarray(0, bytes.length - filled);
    bytes.set(part, filled);
    filled += part.length;
    if (filled === bytes.length) break;
  }
  return new Float32Array(bytes.buffer, 0, Math.floor(filled / BYTES));
}

function channelOf(interleaved: Float32Array, channel: number, channels: number, startS: number): Channel {
  const samples = new Float32Array(Math.floor(interleaved.length / channels));
  let power = 0;
  let peak = 0;
  for (let i = 0; i < samples.length; i++) {
    const stored = interleaved[i * channels + channel];
    // Files of floating samples may hold what is no number.
    const level = Number.isFinite(stored) ? stored : 0;
    samples[i] = level;
    power += level * level;
    peak = Math.max(peak, Math.abs(level));
  }
  const rms = Math.sqrt(power / samples.length);
  return { startS, samples, rms, crest: rms > 0 ? peak / rms : Infinity };
}
