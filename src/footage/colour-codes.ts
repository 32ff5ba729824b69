/** Colour tags as FFmpeg options: code points of ITU-T H.273 (from memory), which every version of FFmpeg takes as numbers. */
import type { ColourTags } from './types.js';

const PRIMARIES: Readonly<Record<string, number>> = {
  ...{ bt709: 1, bt470m: 4, bt470bg: 5, smpte170m: 6, smpte240m: 7, film: 8, bt2020: 9, smpte428: 10 },
  ...{ smpte431: 11, smpte432: 12, ebu3213: 22, 'jedec-p22': 22 },
};
const TRANSFERS: Readonly<Record<string, number>> = {
  ...{ bt709: 1, bt470m: 4, gamma22: 4, bt470bg: 5, gamma28: 5, smpte170m: 6, smpte240m: 7, linear: 8 },
  ...{ log: 9, log100: 9, log_sqrt: 10, log316: 10, 'iec61966-2-4': 11, bt1361e: 12, bt1361: 12 },
  ...{ 'iec61966-2-1': 13, 'bt2020-10': 14, 'bt2020-12': 15, smpte2084: 16, smpte428: 17 },
  'arib-std-b67': 18,
};
const MATRICES: Readonly<Record<string, number>> = {
  ...{ bt709: 1, fcc: 4, bt470bg: 5, smpte170m: 6, smpte240m: 7, ycgco: 8, ycocg: 8, bt2020nc: 9 },
  ...{ bt2020c: 10, smpte2085: 11, 'chroma-derived-nc': 12, 'chroma-derived-c': 13, ictcp: 14 },
};
/** chroma_sample_loc_type of ITU-T H.264. */
const LOCATIONS: Readonly<Record<string, number>> = {
  ...{ left: 0, center: 1, topleft: 2, top: 3, bottomleft: 4, bottom: 5 },
};
const RANGES: Readonly<Record<string, number>> = { tv: 1, pc: 2 };

/** Options that tag a stream; a tag that is null or unknown is left out, so that nothing is claimed of it. */
export function colourOptions(tags: Omit<ColourTags, 'chromaLocation'>): string[] {
  const { primaries, transfer, matrix, range } = tags;
  return [
    ...option('-color_primaries', PRIMARIES, primaries),
    ...option('-color_trc', TRANSFERS, transfer),
    ...option('-colorspace', MATRICES, matrix),
    ...option('-color_range', RANGES, range),
  ];
}

/** The encoder's own word for the place of chroma: old versions of FFmpeg do not pass theirs on to it. */
export function chromaPlaceOptions(chromaLocation: string | null): string[] {
  const code = chromaLocation === null ? undefined : LOCATIONS[chromaLocation];
  return code === undefined ? [] : ['-x264-params', `chromaloc=${code}`];
}

function option(name: string, codes: Readonly<Record<string, number>>, word: string | null): string[] {
  const code = word === null ? undefined : codes[word];
  return code === undefined ? [] : [name, String(code)];
}
