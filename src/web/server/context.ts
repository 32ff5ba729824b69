/** What every part of the server works with: folders, tools, limits, and the way to tell the page that something happened. */
import type { Tools } from '../../footage/index.js';
import type { DeliveryPresets } from '../../judge/index.js';
import type { AllowedFolder, PageEvents } from '../api.js';

/** Made once at the start. */
export interface WebContext {
  /** Folder of the log; uploads, previews and setups lie in folders of their own below it. */
  readonly dataDir: string;
  /** Where report folders go; absolute. */
  readonly outDir: string;
  /** Real paths: links are followed. */
  readonly folders: readonly AllowedFolder[];
  readonly maxUploadBytes: number;
  readonly tools: Tools;
  readonly presets: DeliveryPresets;
  /** Measurements at once, and threads of each. */
  readonly atOnce: number;
  readonly threads: number;
  readonly events: EventHub;
  /** Raised when the server closes. */
  readonly signal: AbortSignal;
}

/** Tells every open page. */
export interface EventHub {
  publish<Name extends keyof PageEvents>(name: Name, data: PageEvents[Name]): void;
}

/** A clip of which the server knows where it is. */
export interface KnownClip {
  readonly id: string;
  /** As the crew calls it. */
  readonly name: string;
  /** Absolute. */
  readonly path: string;
  readonly origin: 'upload' | 'folder';
}

/** Where clips are looked up. */
export interface ClipLookup {
  /** @throws WebProblem 404 `clip-unknown` */
  find(id: string): KnownClip;
  /** The clip of a run by its checksum, if it is still there; null otherwise. */
  ofSha256(sha256: string): Promise<KnownClip | null>;
  /** Notes that a clip has this checksum, so that its runs find it. */
  remember(id: string, sha256: string): Promise<void>;
  /** Takes the copies of clips away that no run of the log needs any more. @param sha256s of the runs that went */
  forget(sha256s: readonly string[]): Promise<void>;
}
