import { Match, Show, Switch, createEffect, createMemo, createSignal, onCleanup, onMount, untrack } from 'solid-js';
import type { Content } from '../../content/types.ts';
import { loadDeferred } from '../deferred.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { department } from '../session/department.ts';
import type { Session } from '../session/session.ts';
import { messagesOf } from '../format/messages.ts';
import { AppContext, isExpired, screenOf, type App as AppParts, type Preferences, type ScreenName } from './app.ts';
import { createCaseView } from './case-view.ts';
import { later } from './later.tsx';
import { pxPerMm } from './size.ts';
import { Table } from './table/Table.tsx';
import { PrivacyContext, type DevicePrivacy } from './privacy.ts';
import { Unsaved } from './Unsaved.tsx';

/** Waited for at a start that resumes no case. */
export const Cases = later(
  () => import('./Cases.tsx').then((script) => script.Cases),
  () => Promise.resolve(),
);
const Lock = later(() => import('./Lock.tsx').then((script) => script.Lock));
const Glance = later(() => import('./Glance.tsx').then((script) => script.Glance));
const Wall = later(() => import('./Wall.tsx').then((script) => script.Wall));

export interface AppProps {
  session: Session;
  writer: () => boolean;
  /** A second screen that only shows. */
  wall: boolean;
  /** ms since 1970 on the device's clock. */
  nowMs: () => number;
  preferences: () => Preferences;
  prefer: (change: Partial<Preferences>) => void;
  startTold: () => readonly string[];
  update: () => (() => void) | null;
  storage: () => string;
  /** The time of day since which the window that writes has been silent; null while it is heard. */
  silentSince: () => string | null;
  /** Seconds for which nothing was painted, told on return. */
  gap: () => number | null;
  /** Keeps the screen awake while a case is open; a key of the words when it cannot. */
  awake: (wanted: boolean) => void;
  awakeTold: () => string | null;
  privacy: DevicePrivacy;
  /** What failed in the app a moment ago, in words. */
  failed?: () => string | null;
  /** Is the page a secure context? True when left out. */
  secure?: boolean;
}

const Across = later(() => import('./Across.tsx').then((script) => script.Across));
const Briefing = later(() => import('./Briefing.tsx').then((script) => script.Briefing));
const Closing = later(() => import('./Closing.tsx').then((script) => script.Closing));
const Record = later(() => import('./Record.tsx').then((script) => script.Record));
const Settings = later(() => import('./Settings.tsx').then((script) => script.Settings));

/** What a new case would be opened with. */
const startContent = (): Content => department().content();

/** The frame of the app: what every screen is given, and which screen shows. */
export function App(props: AppProps) {
  const [tick, setTick] = createSignal(untrack(() => props.nowMs()));
  onMount(() => {
    const timer = setInterval(() => setTick(props.nowMs()), 1000);
    onCleanup(() => clearInterval(timer));
    // After the first screen is drawn: from then on no part of the app waits for a network or a disk.
    requestAnimationFrame(() => setTimeout(() => void loadDeferred()));
  });
  const open = () => props.session.open();
  const content = createMemo(() => open()?.folded.content ?? startContent());
  const w = (key: string, fill?: Parameters<ReturnType<typeof messagesOf>>[1]) => messagesOf(content())(key, fill);
  const view = createCaseView(open, tick);
  const home = () => screenOf(view());
  // A start that resumes a case draws it at once, and no list before it.
  const [screen, setScreen] = createSignal<ScreenName>(untrack(home));
  createLayoutGuard(screen);
  const openId = () => open()?.meta.caseId ?? null;
  // A case that comes open shows where it stands; a case that is left leads to the list.
  createEffect((before: string | null) => {
    const id = openId();
    if (id !== before) setScreen(untrack(home));
    return id;
  }, untrack(openId));
  createEffect(() => props.awake(open() !== null && view()?.phase !== 'closed'));
  createEffect(() => {
    document.documentElement.dataset.theme = props.preferences().theme;
    document.documentElement.style.setProperty('--mm', `${pxPerMm(props.preferences())}px`);
  });

  const app: AppParts = {
    session: untrack(() => props.session),
    content,
    w,
    open,
    view,
    tick,
    screen,
    go: setScreen,
    writer: () => props.writer(),
    secure: () => props.secure !== false,
    preferences: () => props.preferences(),
    prefer: (change) => props.prefer(change),
    startTold: () => props.startTold(),
    update: () => (open() ? null : props.update()),
    storage: () => props.storage(),
  };
  const told = () =>
    [
      props.failed?.() ?? null,
      props.gap() === null ? null : w('app.gap', { seconds: Math.round(props.gap() ?? 0) }),
      props.writer() || props.wall ? null : w(props.session.turnedAway() ? 'app.turned-away' : 'app.reading-only'),
      props.awakeTold() && open() ? w(props.awakeTold() as string) : null,
      props.preferences().pxPerMm === null && (screen() === 'table' || screen() === 'glance')
        ? w('app.not-calibrated')
        : null,
      isExpired(content(), tick()) ? w('app.expired', { date: content().expires }) : null,
    ].filter((line) => line !== null);

  createLayoutGuard(() => told().length > 0);
  const privacy = untrack(() => props.privacy);
  const locked = createMemo(() => privacy.locked());
  createLayoutGuard(() => locked());
  createEffect(() => document.documentElement.toggleAttribute('data-told', told().length > 0 && !props.wall));

  return (
    <AppContext.Provider value={app}>
      <Show
        when={!props.wall}
        fallback={
          <Wall stale={props.silentSince() === null ? null : w('wall.stale', { time: props.silentSince() ?? '' })} />
        }
      >
        <Show when={told().length}>
          <p class="told" role="status">
            {told().join(' · ')}
          </p>
        </Show>
        <PrivacyContext.Provider value={privacy}>
          <Switch fallback={<Screens app={app} />}>
            <Match when={props.session.unsaved()}>
              <Unsaved />
            </Match>
            <Match when={locked()}>
              <Lock />
            </Match>
          </Switch>
        </PrivacyContext.Provider>
      </Show>
    </AppContext.Provider>
  );
}

function Screens(props: { app: AppParts }) {
  const ofDevice = () => ['settings', 'across'].includes(props.app.screen());
  const name = () => (props.app.open() || ofDevice() ? props.app.screen() : 'cases');
  return (
    <Switch fallback={<Cases />}>
      <Match when={name() === 'settings'}>
        <Settings />
      </Match>
      <Match when={name() === 'across'}>
        <Across />
      </Match>
      <Match when={name() === 'briefing'}>
        <Briefing />
      </Match>
      <Match when={name() === 'table'}>
        <Table />
      </Match>
      <Match when={name() === 'glance'}>
        <Glance />
      </Match>
      <Match when={name() === 'closing'}>
        <Closing />
      </Match>
      <Match when={name() === 'record'}>
        <Record />
      </Match>
    </Switch>
  );
}
