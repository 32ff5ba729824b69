/** Which planar layout of luma and chroma samples holds all that a pixel format of FFmpeg's holds. */

/** How densely chroma is sampled: not at all, at half the columns and rows, half the columns, half the rows, everywhere. */
export type Chroma = 'grey' | '420' | '422' | '440' | '444';

/** A planar layout of samples. */
export interface SampleLayout {
  readonly chroma: Chroma;
  /** 8, 9, 10, 12, 14 or 16. */
  readonly bitDepth: number;
}

/** The planar layout for a pixel format, and what FFmpeg has to do to come there. */
export interface PlanarForm extends SampleLayout {
  /** FFmpeg's name of the planar pixel format that decoded frames are brought to. */
  readonly ffmpegFormat: string;
  /** False: already there. */
  readonly isRepacked: boolean;
  /** Red, green and blue, which are brought to luma and chroma. */
  readonly isRgb: boolean;
}

/** Chroma at a quarter of the columns goes where half the columns are kept. */
const KEPT_BY: Readonly<Record<string, Chroma>> = {
  ...{ '420': '420', '422': '422', '440': '440', '444': '444', '411': '422', '410': '420' },
};

const PACKED: Readonly<Record<string, SampleLayout>> = {
  nv12: { chroma: '420', bitDepth: 8 },
  nv21: { chroma: '420', bitDepth: 8 },
  nv16: { chroma: '422', bitDepth: 8 },
  nv20: { chroma: '422', bitDepth: 10 },
  nv24: { chroma: '444', bitDepth: 8 },
  nv42: { chroma: '444', bitDepth: 8 },
  yuyv422: { chroma: '422', bitDepth: 8 },
  yvyu422: { chroma: '422', bitDepth: 8 },
  uyvy422: { chroma: '422', bitDepth: 8 },
  uyyvyy411: { chroma: '422', bitDepth: 8 },
  y210: { chroma: '422', bitDepth: 10 },
  y212: { chroma: '422', bitDepth: 12 },
  y216: { chroma: '422', bitDepth: 16 },
  ayuv: { chroma: '444', bitDepth: 8 },
  vuya: { chroma: '444', bitDepth: 8 },
  vuyx: { chroma: '444', bitDepth: 8 },
  uyva: { chroma: '444', bitDepth: 8 },
  vyu444: { chroma: '444', bitDepth: 8 },
  xv30: { chroma: '444', bitDepth: 10 },
  v30x: { chroma: '444', bitDepth: 10 },
  xv36: { chroma: '444', bitDepth: 12 },
  xv48: { chroma: '444', bitDepth: 16 },
  ayuv64: { chroma: '444', bitDepth: 16 },
};

/** FFmpeg's name of a planar layout, little-endian where a sample takes two bytes. */
export function planarName({ chroma, bitDepth }: SampleLayout): string {
  const depth = bitDepth > 8 ? `${bitDepth}le` : '';
  return chroma === 'grey' ? `gray${depth}` : `yuv${chroma}p${depth}`;
}

/**
 * The nearest planar layout of luma and chroma.
 *
 * Luma and chroma keep their samples and levels; alpha is dropped. RGB goes to 4:4:4 with two bits more than its own
 * 8, or with 12 bits, so that nothing is lost that 10-bit coding could keep.
 *
 * @param pixelFormat FFmpeg's name; what is not known here is taken for RGB
 * @param bitDepth of RGB formats
 */
export function planarForm(pixelFormat: string, bitDepth: number): PlanarForm {
  const name = pixelFormat.replace(/(le|be)$/, '');
  const named = (layout: SampleLayout, own?: string): PlanarForm => {
    const ffmpegFormat = own ?? planarName(layout);
    return { ...layout, ffmpegFormat, isRepacked: ffmpegFormat !== pixelFormat, isRgb: false };
  };
  const [, full, density, depth] = /^yuv(j?)a?(4\d\d)p(\d*)$/.exec(name) ?? [];
  if (density !== undefined && density in KEPT_BY) {
    const layout = { chroma: KEPT_BY[density], bitDepth: Number(depth || 8) };
    // The full-range twins of 8-bit formats: going to the other name would make FFmpeg change the levels.
    return named(layout, full ? `yuvj${layout.chroma}p` : undefined);
  }
  const [, half, halfDepth] = /^p([024])(10|12|16)$/.exec(name) ?? [];
  if (half !== undefined) {
    return named({ chroma: KEPT_BY[{ 0: '420', 2: '422', 4: '444' }[half]!], bitDepth: Number(halfDepth) });
  }
  const [, grey, greyDepth] = /^(gray|ya)(f?\d*)$/.exec(name) ?? [];
  if (grey !== undefined) {
    const bits = greyDepth.startsWith('f') ? 16 : Number(greyDepth || 8);
    return named({ chroma: 'grey', bitDepth: { 9: 10, 14: 16 }[bits] ?? bits });
  }
  if (name in PACKED) return named(PACKED[name]);
  const layout: SampleLayout = { chroma: '444', bitDepth: bitDepth > 8 ? 12 : 10 };
  return { ...named(layout), isRepacked: true, isRgb: true };
}
