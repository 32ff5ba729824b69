/** Plays the clip of a run: as it was shot with its crop window, stabilised, or both side by side. */
import { useSignal, useSignalEffect } from '@preact/signals';
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { RunDocument } from '../../../../run/index.js';
import { playerTexts } from '../../../../texts/index.js';
import type { FramePack } from '../../../api.js';
import { getPicture } from './load-frame.js';
import type { PlayedView } from './frame-mesh.js';
import { PlayerControls } from './player-controls.js';
import { PlayerScreen } from './player-screen.js';
import { Scrubber } from './scrubber.js';
import { decidingTimeS, scrubMarks } from './scrub-marks.js';
import { usePlayerKeys, type ShownView } from './player-keys.js';

/**
 * The player.
 *
 * @param props.view what is taken out; null as long as it is not known
 * @param props.stabilises false where it never will be: then the clip is played as shot only
 */
export function Player({
  id,
  run,
  view,
  stabilises,
  pack,
}: {
  readonly id: number;
  readonly run: RunDocument;
  readonly view: PlayedView | null;
  readonly stabilises: boolean;
  readonly pack: FramePack;
}) {
  const { widthPx, heightPx } = pack;
  const screen = useMemo(
    () => new PlayerScreen({ widthPx, heightPx }, (frame, signal) => getPicture(id, frame, signal)),
    [id, widthPx, heightPx],
  );
  useEffect(() => () => screen.close(), [screen]);
  // The line is laid out for the whole clip from the start, whatever of it is made.
  const stamps = pack.timeS.join();
  const timeS = useMemo(() => pack.timeS, [stamps]);
  useEffect(() => screen.setTimes(timeS, pack.count), [screen, timeS, pack.count]);
  useEffect(() => screen.setView(view), [screen, view]);
  const shown = useSignal<ShownView>('shot');
  usePlayerKeys(screen.playback, shown, stabilises);
  const decidingS = useMemo(() => view && decidingTimeS(view), [view]);
  const marks = useMemo(() => scrubMarks(run.surface, decidingS, timeS), [run, decidingS, timeS]);
  const kind = stabilises ? shown.value : 'shot';
  const { delivery } = run;
  const shape = view?.shape ?? delivery.heightPx / delivery.widthPx;
  return (
    <section class="player" aria-label={playerTexts.title}>
      <Stage screen={screen} kind={kind} windowed={stabilises} shape={shape} size={pack} />
      <Scrubber playback={screen.playback} clip={run.clip} timeS={timeS} marks={marks} />
      <PlayerControls
        playback={screen.playback}
        shown={stabilises ? shown : null}
        timeS={timeS}
        made={pack.count}
        decidingS={decidingS}
      />
      <PlayerNotes screen={screen} kind={kind} pack={pack} windowed={stabilises} />
    </section>
  );
}

/** The canvases. They keep their place whatever is shown, so that nothing jumps. */
function Stage({
  screen,
  kind,
  windowed,
  shape,
  size,
}: {
  readonly screen: PlayerScreen;
  readonly kind: ShownView;
  readonly windowed: boolean;
  /** Height per width of the stabilised picture. */
  readonly shape: number;
  readonly size: Pick<FramePack, 'widthPx' | 'heightPx'>;
}) {
  const shot = useMemo(
    () => (canvas: HTMLCanvasElement | null) => screen.setCanvas('shot', canvas),
    [screen],
  );
  const stabilised = useMemo(
    () => (canvas: HTMLCanvasElement | null) => screen.setCanvas('stabilised', canvas),
    [screen],
  );
  const frame = size.widthPx / size.heightPx;
  return (
    <div class={`stage ${kind}`} style={{ '--frame': String(frame) }}>
      <div hidden={kind === 'stabilised'}>
        <canvas
          ref={shot}
          style={{ '--aspect': String(frame) }}
          role="img"
          aria-label={windowed ? playerTexts.shotPicture : playerTexts.shotPictureBare}
        />
      </div>
      <div hidden={kind === 'shot'}>
        <canvas
          ref={stabilised}
          style={{ '--aspect': String(1 / shape) }}
          role="img"
          aria-label={playerTexts.stabilisedPicture}
        />
      </div>
    </div>
  );
}

/** What is to be known of the picture: frames still being made, how the preview is drawn. */
function PlayerNotes({
  screen,
  kind,
  pack,
  windowed,
}: {
  readonly screen: PlayerScreen;
  readonly kind: ShownView;
  readonly pack: FramePack;
  readonly windowed: boolean;
}) {
  const waiting = useWaited(screen);
  const notes = [
    pack.state === 'making' && playerTexts.making(pack.count, pack.timeS.length || null),
    screen.fault.value !== null && playerTexts.failed,
    waiting && playerTexts.waiting,
    windowed && kind !== 'stabilised' && playerTexts.windowNote,
    kind !== 'shot' &&
      (screen.drawn.value === 'affine' ? playerTexts.withoutGraphics : playerTexts.stabilisedHow),
  ].filter((note) => note !== false);
  return (
    <p class="player-notes" role="status">
      {notes.join(' ')}
    </p>
  );
}

/** A frame that comes a moment late is no news, ms. */
const NEWS_AFTER_MS = 400;

/** True when play has been waiting for a while. */
function useWaited(screen: PlayerScreen): boolean {
  const [waited, setWaited] = useState(false);
  useSignalEffect(() => {
    if (!screen.playback.waiting.value) {
      setWaited(false);
      return undefined;
    }
    const timer = setTimeout(() => setWaited(true), NEWS_AFTER_MS);
    return () => clearTimeout(timer);
  });
  return waited;
}
