/** What the footage room hands on: facts about a clip and its grey frames. */

/** Facts read from the container and the first frames, before anything is decoded in full. */
export interface ClipFacts {
  readonly file: string;
  readonly codec: string;
  readonly pixelFormat: string;
  readonly bitDepth: number;
  /** Size as shown: after rotation and pixel aspect. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rotationDeg: 0 | 90 | 180 | 270;
  readonly pixelAspect: number;
  readonly fps: number;
  /** Exact rate as a fraction, for example "24000/1001". */
  readonly fpsFraction: string;
  readonly variableRate: boolean;
  readonly interlaced: boolean;
  readonly colourTransfer: string | null;
  readonly hasAudio: boolean;
  /** As the container states it; the decoder's count is final. */
  readonly frameCount: number;
  readonly durationS: number;
  /** HH:MM:SS:FF or HH:MM:SS;FF, null when the file has none. */
  readonly timecodeStart: string | null;
}

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
}
