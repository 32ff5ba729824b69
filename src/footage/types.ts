/** What the footage room hands on: facts about a clip and its grey frames. */

/** Facts read from the container and its first packets, before anything is decoded in full. */
export interface ClipFacts {
  readonly file: string;
  /** The file as it was before anything was read of it. */
  readonly mark?: FileMark;
  readonly codec: string;
  readonly pixelFormat: string;
  readonly bitDepth: number;
  /** Size as shown: after rotation and pixel aspect. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** How far the stored picture is turned clockwise to stand upright. */
  readonly rotationDeg: 0 | 90 | 180 | 270;
  /** True when the container asks for a left-right mirrored picture (some front cameras). */
  readonly mirrored: boolean;
  /** What the file asks for beyond quarter turns, degrees clockwise, and is not done; absent below one degree. */
  readonly skewDeg?: number;
  /** Width of one stored pixel over its height. */
  readonly pixelAspect: number;
  /** Size of the picture as stored: before it is turned and its pixels are made square. */
  readonly storedWidthPx: number;
  readonly storedHeightPx: number;
  readonly fps: number;
  /** Exact rate as a fraction, for example "24000/1001". */
  readonly fpsFraction: string;
  readonly variableRate: boolean;
  readonly interlaced: boolean;
  readonly colourTransfer: string | null;
  /** What the file says of its colours. */
  readonly colour: ColourTags;
  readonly hasAudio: boolean;
  /** Every sound stream, in the order of the file; empty when the clip is silent. */
  readonly sound: readonly SoundStream[];
  /** As the container states it, unless it states more than fit; the decoder's count is final. */
  readonly frameCount: number;
  /** Length of the video stream; 0 when neither the container nor its packets tell. */
  readonly durationS: number;
  /** The length that the container states, where its own frames prove it wrong; `durationS` is theirs. */
  readonly misstatedLengthS?: number;
  /** The rate that the container states, where its own time stamps prove it wrong; `fps` is theirs. */
  readonly misstatedFps?: number;
  /** The container's own time stamp of the first frame; clip time 0 is this moment. */
  readonly startTimeS: number;
  /** False for bare streams without a container, and where the container has no times of showing: frames are counted at the rate. */
  readonly hasTimeStamps: boolean;
  /** HH:MM:SS:FF or HH:MM:SS;FF, null when the file has none. */
  readonly timecodeStart: string | null;
}

/** What tells that a file was changed. */
export interface FileMark {
  readonly sizeBytes: number;
  readonly modifiedMs: number;
}

/** How levels stand for colours, in FFmpeg's words for the code points of ITU-T H.273; null where the file does not say. */
export interface ColourTags {
  readonly primaries: string | null;
  readonly transfer: string | null;
  readonly matrix: string | null;
  /** tv: black and white at 16 and 235 of 8 bits; pc: at the ends of the scale. */
  readonly range: 'tv' | 'pc' | null;
  /** Where chroma samples sit between luma samples: left, center, topleft, top, bottomleft, bottom. */
  readonly chromaLocation: string | null;
}

/** One sound stream. */
export interface SoundStream {
  /** FFmpeg's name of the codec; "unknown" when it has none. */
  readonly codec: string;
  readonly channels: number;
  /** FFmpeg's name of the channel layout, for example "stereo"; null when the file does not say. */
  readonly channelLayout: string | null;
  /** Bits of one sample; 0 for codecs that keep no samples. */
  readonly bitDepth: number;
  /** The container's own time stamp of its first sample; null when it states none. */
  readonly startTimeS: number | null;
}

/** How a frame was coded: on its own, predicted, predicted from both sides, or not told. */
export type FrameType = 'I' | 'P' | 'B' | '?';

/** One decoded frame in grey, at the analysis size, with the time stamp of the container. */
export interface GreyFrame {
  /** 0 for the first frame of the range. */
  readonly index: number;
  /** Seconds from the start of the clip, from the container. */
  readonly timeS: number;
  readonly type: FrameType;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Length widthPx * heightPx, row by row. */
  readonly grey: Uint8Array;
  /** Gives the memory of `grey` back for a later frame. Nobody has to; whoever does must not look at it again. */
  readonly release?: () => void;
}

/** One colour picture as shown: upright, square pixels. */
export interface Picture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Length 3 * widthPx * heightPx, row by row, red, green, blue. */
  readonly rgb: Uint8Array;
}

/** Where a tool was found. */
export type ToolSource = 'setting' | 'ffmpeg-static' | 'beside ffmpeg' | 'PATH' | 'installer package';

/** A program that was found and answered. */
export interface Tool {
  readonly path: string;
  readonly from: ToolSource;
  /** As the program states it, for example "7.0.2" or "N-47683-g0e8eb07980". */
  readonly version: string;
  /** That of the build, by the options it was built with; missing when it does not tell them. */
  readonly licence?: string;
}

/** FFmpeg, with the one difference between versions that matters here. */
export interface FfmpegTool extends Tool {
  /** True from FFmpeg 5.1 on: `-fps_mode` has taken the place of `-vsync`. */
  readonly knowsFpsMode: boolean;
}

/** The two programs that read and write clips. */
export interface Tools {
  readonly ffmpeg: FfmpegTool;
  readonly ffprobe: Tool;
}
