/** What decoded frames look like: the filter chain, pixel layout and bytes of a frame, scaled for analysis or as stored. */
import { planarForm } from './sample-layout.js';
import type { ClipFacts } from './types.js';

/** How FFmpeg is to hand over frames. */
export interface FrameLook {
  /** One chain of filters, ending in the report of each frame. */
  readonly filters: string;
  /** FFmpeg's name of the pixel layout. */
  readonly pixels: string;
  readonly frameBytes: number;
}

const BYTES = { gray: 1, gray16le: 2, rgb24: 3 } as const;
const REPORT = ['setsar=1', 'showinfo'];

/** Upright, square pixels, full range; even sizes. */
export function scaledLook(
  facts: ClipFacts,
  widthPx: number,
  heightPx: number,
  pixels: keyof typeof BYTES,
): FrameLook {
  const onItsSide = facts.rotationDeg % 180 !== 0;
  const size = onItsSide ? `${heightPx}:${widthPx}` : `${widthPx}:${heightPx}`;
  const filters = [
    ...deinterlace(facts),
    `scale=${size}:flags=area+accurate_rnd:out_range=full`,
    `format=${pixels}`,
    ...turn(facts),
    ...REPORT,
  ];
  return { filters: filters.join(','), pixels, frameBytes: widthPx * heightPx * BYTES[pixels] };
}

/**
 * Planes as stored, neither scaled nor changed in level.
 *
 * @param isTurned upright; false leaves the turning to the receiver
 */
export function nativeLook(facts: ClipFacts, frameBytes: number, isTurned: boolean): FrameLook {
  const { ffmpegFormat, isRepacked, isRgb } = planarForm(facts.pixelFormat, facts.bitDepth);
  const range = facts.colour.range === 'pc' ? 'full' : 'limited';
  const colours = isRgb
    ? 'flags=accurate_rnd+full_chroma_int+full_chroma_inp:out_color_matrix=bt709:out_range=limited'
    : `flags=bicubic+accurate_rnd+full_chroma_int:in_range=${range}:out_range=${range}`;
  const filters = [
    ...(isRepacked ? [`scale=${colours}`] : []),
    `format=${ffmpegFormat}`,
    ...deinterlace(facts),
    ...(isTurned ? turn(facts) : []),
    ...REPORT,
  ];
  return { filters: filters.join(','), pixels: ffmpegFormat, frameBytes };
}

function deinterlace({ interlaced }: ClipFacts): string[] {
  return interlaced ? ['yadif=mode=send_frame:parity=auto:deint=all'] : [];
}

/** Turned in the filters: what FFmpeg turns by itself differs between versions. */
function turn({ rotationDeg, mirrored }: ClipFacts): string[] {
  const quarter = { 0: [], 90: ['transpose=clock'], 180: ['hflip', 'vflip'], 270: ['transpose=cclock'] };
  return [...quarter[rotationDeg], ...(mirrored ? ['hflip'] : [])];
}
