/**
 * How the planes of full-resolution frames lie over the picture: sizes, places of chroma samples in luma pixels,
 * levels and colours; of a clip as decoded, and of the clip to be written.
 */
import { planarForm, planarName, type Chroma, type PlanarForm } from './sample-layout.js';
import type { ClipFacts, ColourTags } from './types.js';

/** One plane: its sample (i, j) sits at the luma place (stepX * i + offsetX, stepY * j + offsetY). */
export interface PlaneGeometry {
  /** Samples in a row, and rows. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly stepX: number;
  readonly stepY: number;
  readonly offsetX: number;
  readonly offsetY: number;
}

/** Planes of one picture, upright, as stored: pixels are not made square. */
export interface PlaneFormat {
  /** FFmpeg's name of the layout, for example "yuv422p10le"; little-endian as this machine. */
  readonly pixelFormat: string;
  readonly chroma: Chroma;
  readonly bitDepth: number;
  /** 1: planes are Uint8Array; 2: Uint16Array with values below 2^bitDepth. */
  readonly bytesPerSample: 1 | 2;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Width of one upright pixel over its height. */
  readonly pixelAspect: number;
  /** What the levels stand for; `range` is never null. Chroma places are in `planes`. */
  readonly colour: Omit<ColourTags, 'chromaLocation'> & { readonly range: 'tv' | 'pc' };
  /** Luma, then the two chroma planes unless grey. */
  readonly planes: readonly PlaneGeometry[];
}

/** What a proof can be coded in. */
export type PlaneCodec = 'h264' | 'prores';

/** Samples along one side of the picture. */
interface Axis {
  /** Luma pixels along this side. */
  readonly lengthPx: number;
  readonly count: number;
  readonly step: number;
  readonly offset: number;
}

/**
 * How the planes of a clip lie once decoded: upright, not scaled, levels as coded.
 *
 * Chroma of 4:2:0 and 4:2:2 sits where the file says, at the left when it does not (ITU-T H.264, chroma_sample_loc_type 0).
 * A 4:2:2 picture turned by a quarter has half the chroma rows instead of half the columns (chroma "440").
 * A range that is not stated is that of television for luma and chroma, full for grey alone.
 */
export function planeFormatOf(facts: ClipFacts): PlaneFormat {
  const form = planarForm(facts.pixelFormat, facts.bitDepth);
  const { columns, rows } = STEPS[form.chroma];
  const site = SITES[facts.colour.chromaLocation ?? 'left'] ?? SITES.left;
  const { storedWidthPx, storedHeightPx } = facts;
  const luma = turned(axis(storedWidthPx, 1, 0), axis(storedHeightPx, 1, 0), facts);
  const chroma = turned(axis(storedWidthPx, columns, site.x), axis(storedHeightPx, rows, site.y), facts);
  const onItsSide = facts.rotationDeg % 180 !== 0;
  return formatOf({
    layout: { chroma: onItsSide ? turnedChroma(form.chroma) : form.chroma, bitDepth: form.bitDepth },
    pixelAspect: onItsSide ? 1 / facts.pixelAspect : facts.pixelAspect,
    colour: decodedColour(facts, form),
    luma,
    ...{ chroma },
  });
}

/**
 * The format in which frames are handed over to be written with a codec at another size: the depth of `format`, chroma
 * as densely as the codec can keep it, placed where the written file can say so (else at the left). A side that chroma
 * asks to be even is brought down to even.
 *
 * H.264 keeps 4:2:0, 4:2:2 and 4:4:4; ProRes 4:2:2 and 4:4:4. Grey stays one plane.
 */
export function outputFormat(
  format: PlaneFormat,
  codec: PlaneCodec,
  widthPx: number,
  heightPx: number,
): PlaneFormat {
  const chroma = codedChroma(format.chroma, codec);
  const kept = chroma === 'grey' ? codedChroma('420', codec) : chroma;
  const even = STEPS[kept];
  const [wide, high] = [widthPx - (widthPx % even.columns), heightPx - (heightPx % even.rows)];
  if (!(Number.isInteger(widthPx) && Number.isInteger(heightPx) && wide > 0 && high > 0)) {
    throw new RangeError(`the size must be whole and large enough to code, got ${widthPx} x ${heightPx}`);
  }
  const own = format.chroma === '420' && chroma === '420' ? chromaLocationOf(format) : null;
  const site = SITES[own !== null && PLAIN_SITES.includes(own) ? own : 'left'];
  const { columns, rows } = STEPS[chroma];
  return formatOf({
    layout: { chroma, bitDepth: format.bitDepth },
    pixelAspect: format.pixelAspect,
    colour: format.colour,
    luma: [axis(wide, 1, 0), axis(high, 1, 0)],
    chroma: [axis(wide, columns, site.x), axis(high, rows, site.y)],
  });
}

/** The chroma density a codec keeps of a given one, losing nothing. */
function codedChroma(chroma: Chroma, codec: PlaneCodec): Chroma {
  if (chroma === '440') return '444';
  return chroma === '420' && codec === 'prores' ? '422' : chroma;
}

/** FFmpeg's word for where the chroma of a 4:2:0 format sits; null for places without one, and for other densities. */
export function chromaLocationOf(format: PlaneFormat): string | null {
  if (format.chroma !== '420') return null;
  const { offsetX, offsetY } = format.planes[1];
  const found = Object.entries(SITES).find(([, { x, y }]) => x === offsetX && y === offsetY);
  return found?.[0] ?? null;
}

/** Bytes of one frame. */
export function frameBytesOf({ planes, bytesPerSample }: PlaneFormat): number {
  return planes.reduce((sum, { widthPx, heightPx }) => sum + widthPx * heightPx * bytesPerSample, 0);
}

const STEPS: Readonly<Record<Chroma, { columns: number; rows: number }>> = {
  grey: { columns: 1, rows: 1 },
  '420': { columns: 2, rows: 2 },
  '422': { columns: 2, rows: 1 },
  '440': { columns: 1, rows: 2 },
  '444': { columns: 1, rows: 1 },
};

/** Places within a block of two by two luma pixels (ITU-T H.264 figure E-1, types 0 to 5). */
const SITES: Readonly<Record<string, { x: number; y: number }>> = {
  left: { x: 0, y: 0.5 },
  center: { x: 0.5, y: 0.5 },
  topleft: { x: 0, y: 0 },
  top: { x: 0.5, y: 0 },
  bottomleft: { x: 0, y: 1 },
  bottom: { x: 0.5, y: 1 },
};

/** Those that players are used to. */
const PLAIN_SITES: readonly string[] = ['left', 'center', 'topleft'];

function axis(lengthPx: number, step: number, siteOffset: number): Axis {
  return { lengthPx, count: Math.ceil(lengthPx / step), step, offset: step === 1 ? 0 : siteOffset };
}

/** The same samples counted from the other end. */
function flipped({ lengthPx, count, step, offset }: Axis): Axis {
  return { lengthPx, count, step, offset: lengthPx - 1 - offset - step * (count - 1) };
}

/** Stored columns and rows as columns and rows of the upright picture: turned clockwise, then mirrored. */
function turned(
  columns: Axis,
  rows: Axis,
  { rotationDeg, mirrored }: Pick<ClipFacts, 'rotationDeg' | 'mirrored'>,
): [Axis, Axis] {
  const [x, y] = {
    0: [columns, rows],
    90: [flipped(rows), columns],
    180: [flipped(columns), flipped(rows)],
    270: [rows, flipped(columns)],
  }[rotationDeg];
  return [mirrored ? flipped(x) : x, y];
}

function turnedChroma(chroma: Chroma): Chroma {
  return { '422': '440' as const, '440': '422' as const }[chroma as string] ?? chroma;
}

function decodedColour({ colour }: ClipFacts, form: PlanarForm): PlaneFormat['colour'] {
  const { primaries, transfer, matrix, range } = colour;
  if (form.isRgb) return { primaries, transfer, matrix: 'bt709', range: 'tv' };
  return { primaries, transfer, matrix, range: range ?? (form.chroma === 'grey' ? 'pc' : 'tv') };
}

function formatOf(parts: {
  layout: { chroma: Chroma; bitDepth: number };
  pixelAspect: number;
  colour: PlaneFormat['colour'];
  luma: [Axis, Axis];
  chroma: [Axis, Axis];
}): PlaneFormat {
  const { layout, pixelAspect, colour, luma, chroma } = parts;
  const each = layout.chroma === 'grey' ? [luma] : [luma, chroma, chroma];
  return {
    pixelFormat: planarName(layout),
    ...layout,
    bytesPerSample: layout.bitDepth > 8 ? 2 : 1,
    widthPx: luma[0].lengthPx,
    heightPx: luma[1].lengthPx,
    ...{ pixelAspect, colour },
    planes: each.map(([x, y]) => ({
      ...{ widthPx: x.count, heightPx: y.count, stepX: x.step, stepY: y.step },
      ...{ offsetX: x.offset, offsetY: y.offset },
    })),
  };
}
