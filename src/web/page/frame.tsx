/** What stands around every view: name, ways to the views, look, keys, and what is told while one works. */
import { computed } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { frameTexts } from '../../texts/index.js';
import { isActive } from '../is-active.js';
import { aboutProblem, loadAbout } from './about.js';
import { ComparisonView, RunView } from './lazy-views.js';
import { LogView } from './log/log-view.js';
import { connection } from './connection.js';
import { jobs } from './events.js';
import { useKeys } from './keys.js';
import { KeysDialog } from './keys-dialog.js';
import { notice } from './notices.js';
import { Link } from './parts/link.js';
import { ProblemNote } from './parts/problem-note.js';
import { place, route } from './router.js';
import type { Route } from './routes.js';
import { StartView } from './start/start-view.js';
import { switchTheme, theme } from './theme.js';
import { WorkView } from './queue/queue-view.js';

const underWay = computed(() => jobs.value.filter(isActive).length);

/** The whole page. */
export function Frame() {
  const [isListing, setIsListing] = useState(false);
  const at = route.value;
  useKeys([{ key: '?', what: frameTexts.keysShow, run: () => setIsListing(true) }]);
  return (
    <>
      <a class="skip" href="#view">
        {frameTexts.skip}
      </a>
      <header class="frame-head">
        <Link class="word-mark" href="/">
          {frameTexts.name}
        </Link>
        <nav aria-label={frameTexts.navigation}>
          <Way href="/" here={at.view === 'start'}>
            {frameTexts.views.start}
          </Way>
          <Way href="/work" here={at.view === 'work'}>
            {frameTexts.views.work}
            {underWay.value > 0 && (
              <span class="count">
                <span aria-hidden="true">{underWay.value}</span>
                <span class="unseen">, {frameTexts.running(underWay.value)}</span>
              </span>
            )}
          </Way>
          <Way href="/log" here={at.view === 'log'}>
            {frameTexts.views.log}
          </Way>
        </nav>
        <div class="frame-tools">
          <button
            type="button"
            class="quiet"
            aria-label={frameTexts.themeWhat[theme.value === 'dark' ? 'light' : 'dark']}
            onClick={switchTheme}
          >
            {theme.value === 'dark' ? frameTexts.toLight : frameTexts.toDark}
          </button>
          <button type="button" class="quiet keys-button" onClick={() => setIsListing(true)}>
            {frameTexts.keys}
          </button>
        </div>
      </header>
      <p class="lost" role="status">
        {connection.value === 'lost' && frameTexts.reconnecting}
        {connection.value === 'refused' && frameTexts.noToken}
      </p>
      <View at={at} />
      <div class="told" role="status">
        {notice.value !== '' && <p>{notice.value}</p>}
      </div>
      {isListing && <KeysDialog onClose={() => setIsListing(false)} />}
    </>
  );
}

function Way({
  href,
  here,
  children,
}: {
  readonly href: string;
  readonly here: boolean;
  readonly children: ComponentChildren;
}) {
  return (
    <Link href={href} aria-current={here ? 'page' : undefined}>
      {children}
    </Link>
  );
}

/** The view at an address. After going to another one the focus is on it, and the window has its name. */
function View({ at }: { readonly at: Route }) {
  const box = useRef<HTMLDivElement>(null);
  const isFirst = useRef(true);
  const { path } = place.value;
  useLayoutEffect(() => {
    document.title = frameTexts.titleOf(frameTexts.views[at.view]);
    if (!isFirst.current) box.current?.focus({ preventScroll: true });
    isFirst.current = false;
  }, [path]);
  return (
    <div id="view" ref={box} tabIndex={-1}>
      {aboutProblem.value !== null && aboutProblem.value.status !== 401 && (
        <div class="frame-note">
          <ProblemNote problem={aboutProblem.value} retry={() => void loadAbout()} />
        </div>
      )}
      {at.view === 'start' && at.missed && (
        <p class="frame-note" role="status">
          {frameTexts.notFound}
        </p>
      )}
      {viewOf(at)}
    </div>
  );
}

function viewOf(at: Route) {
  switch (at.view) {
    case 'start':
      return <StartView />;
    case 'work':
      return <WorkView />;
    case 'log':
      return <LogView />;
    case 'run':
      return <RunView key={at.id} id={at.id} />;
    case 'comparison':
      return <ComparisonView runs={at.runs} by={at.by} plan={at.plan} />;
  }
}
