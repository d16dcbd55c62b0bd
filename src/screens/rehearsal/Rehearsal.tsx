import { Match, Show, Switch, createEffect, createMemo, createSignal, on, untrack, type JSX } from 'solid-js';
import type { App } from '../app.ts';
import { AppContext, type Preferences, type ScreenName } from '../app.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { messagesOf } from '../../format/messages.ts';
import { readAcross, type Across } from '../../session/across.ts';
import type { Plan } from '../../session/plan.ts';
import { createRehearsal, type Rehearsal as Running } from '../../session/rehearsal.ts';
import { createCaseView } from '../case-view.ts';
import { Glance } from '../Glance.tsx';
import { hasAllEnded } from '../table/ended.ts';
import { Table } from '../table/Table.tsx';
import { LastPage, type EndedBy } from './LastPage.tsx';
import { rehearsalMinutes } from './minutes.ts';
import { endWords } from './words.ts';
import './rehearsal-style.ts';

export interface RehearsalProps {
  plan: Plan;
  across: Across;
  preferences: () => Preferences;
  /** The device's clock, ms since 1970, ticking every second. */
  tick: () => number;
  onClose: () => void;
}

/** So long the question after the last screw stands, ms. */
const lastAnswerMs = 30_000;

const newSeed = (): number => crypto.getRandomValues(new Uint32Array(1))[0] as number;

/** The plan played through at the table, with outcomes that are dealt. Of all that is entered nothing outlives it. */
export function Rehearsal(props: RehearsalProps) {
  /** What is dealt now: the same seed once more is a rehearsal of its own, too. */
  const [dealt, setDealt] = createSignal({ seed: newSeed() });
  const again = (same: boolean) => setDealt(({ seed }) => ({ seed: same ? seed : newSeed() }));
  return (
    <Show when={dealt()} keyed>
      {({ seed }) => <One {...props} seed={seed} onAgain={again} />}
    </Show>
  );
}

function One(props: RehearsalProps & { seed: number; onAgain: (same: boolean) => void }) {
  const running = untrack(() => createRehearsal(props.plan, props.seed, props.tick));
  return <Show when={running}>{(found) => <Stage {...props} running={untrack(found)} />}</Show>;
}

function Stage(props: RehearsalProps & { seed: number; running: Running; onAgain: (same: boolean) => void }) {
  const { session, deal, ms, found, otherwise } = untrack(() => props.running);
  untrack(() => readAcross(session, props.across));
  const [screen, setScreen] = createSignal<ScreenName>('table');
  const [elsewhere, setElsewhere] = createSignal(false);
  const [endedBy, setEndedBy] = createSignal<EndedBy | null>(null);
  const open = session.open;
  const content = () => open()!.folded.content;
  const w: App['w'] = (key, fill) => messagesOf(content())(key, fill);
  const view = createCaseView(open, ms);
  const go = (to: ScreenName) => {
    const isHere = to === 'table' || to === 'glance';
    setElsewhere(!isHere && to !== 'closing');
    if (isHere) setScreen(to);
    if (to === 'closing') setEndedBy('touch');
  };
  const app: App = {
    ...{ session, content, w, open, view, screen, go },
    tick: ms,
    writer: () => true,
    preferences: () => props.preferences(),
    prefer: () => undefined,
    startTold: () => [],
    update: () => null,
    storage: () => '',
    rehearsal: true,
  };

  const [until, setUntil] = createSignal(untrack(() => props.tick()) + rehearsalMinutes * 60_000);
  const minutesLeft = createMemo(() => Math.max(0, Math.ceil((until() - props.tick()) / 60_000)));
  createEffect(() => minutesLeft() === 0 && endedBy() === null && setEndedBy('time'));
  const allEnded = createMemo(() => hasAllEnded(view()));
  /** Since when they all have, and after how many entries: what is asked of the last one is answered before the last page. */
  const [since, setSince] = createSignal<{ entries: number; at: number } | null>(null);
  createEffect(
    on(allEnded, (all) => setSince(all ? { entries: open()!.entries.length, at: untrack(props.tick) } : null), {
      defer: true,
    }),
  );
  createEffect(() => {
    const now = since();
    if (now === null || (open()!.entries.length === now.entries && props.tick() - now.at < lastAnswerMs)) return;
    setSince(null);
    setEndedBy('all');
  });
  const goOn = () => {
    if (minutesLeft() === 0) setUntil(props.tick() + rehearsalMinutes * 60_000);
    setScreen('table');
    setEndedBy(null);
  };
  createLayoutGuard(() => endedBy());

  /** Does a move run on the screw in hand? */
  const runs = () => (view()?.screws[view()?.called ?? '']?.move ?? null) !== null;
  const call = (): string => {
    if (elsewhere()) return w('rehearsal.not-here');
    if (since() !== null) return w('rehearsal.all-ended');
    const now = deal();
    if (now)
      return w('rehearsal.dealt', { outcome: endWords(content(), now), minutes: Math.max(1, Math.round(now.minutes)) });
    return w(runs() ? 'rehearsal.no-rates' : 'rehearsal.kept-nowhere');
  };
  const frame = (children: JSX.Element) => (
    <div class="rehearsal">
      <b class="rehearsal-mark">
        {w('rehearsal.mark')} {w('cases.invented')}
      </b>
      <p class="rehearsal-call" role="status" data-dealt={deal() && !elsewhere() ? '' : undefined}>
        {call()}
      </p>
      <Touch onAct={() => setEndedBy('touch')}>
        {w('rehearsal.end')}
        <small class="figure">{w('rehearsal.left', { minutes: minutesLeft() })}</small>
      </Touch>
      <div class="rehearsal-screen">{children}</div>
    </div>
  );
  return (
    <AppContext.Provider value={app}>
      <Show
        when={endedBy()}
        fallback={frame(
          <Switch>
            <Match when={screen() === 'table'}>
              <Table />
            </Match>
            <Match when={screen() === 'glance'}>
              <Glance />
            </Match>
          </Switch>,
        )}
      >
        {(by) => (
          <LastPage
            {...{ found: found(), otherwise: otherwise(), seed: props.seed, by: by() }}
            onGoOn={goOn}
            onAgain={(same) => props.onAgain(same)}
            onClose={() => props.onClose()}
          />
        )}
      </Show>
    </AppContext.Provider>
  );
}
