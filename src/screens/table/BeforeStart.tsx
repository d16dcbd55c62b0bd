import { For, Match, Show, Switch, createSignal } from 'solid-js';
import type { HoldId } from '../../../content/ids.ts';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import './sheets-style.ts';
import { useApp } from '../app.ts';
import { BeforeMove } from './BeforeMove.tsx';
import { beforeTitle, costWords } from './before-words.ts';
import { Deciders } from './Deciders.tsx';
import { decidersOf } from './deciders.ts';
import type { Table } from './state.ts';

/** What stands before the pending move, by the ladder of the content. */
export function BeforeStart(props: { table: Table }) {
  return (
    <Show when={props.table.isSecond()} fallback={<BeforeFirst table={props.table} />}>
      <BeforeMove table={props.table} />
    </Show>
  );
}

/** Holds before the pending move: reverse drive, then the bone limit with a reason, H4 with a second touch. */
function BeforeFirst(props: { table: Table }) {
  const app = useApp();
  const { w, content } = app;
  const [reason, setReason] = createSignal<string | null>(null);
  /** On whose word it goes on past the limit; nobody is taken for it beforehand. */
  const [decides, setDecides] = createSignal<string | undefined>(undefined);
  const asksWho = () => reason() !== null && decidersOf(app).length > 0;
  const hold = (): HoldId | null => props.table.pendingHolds()[0] ?? null;
  const reasons = () => content().holds.find(({ id }) => id === hold())?.reasons ?? [];
  createLayoutGuard(() => `${hold()} ${reason()}`);
  const goOn = async (why: string) => {
    const now = hold();
    if (!now) return;
    setReason(null);
    if ((await props.table.answer(now, 'go-on', why, decides())).ok) await props.table.startPending();
  };
  const chosen = (why: string) => (hold() === 'bone-stop' ? setReason(why) : void goOn(why));
  return (
    <Show when={hold()}>
      {(now) => (
        <div class="hold-panel" classList={{ 'with-checks': asksWho() }}>
          <Band
            kind="hold"
            title={beforeTitle(props.table, now())}
            text={
              now() === 'reverse'
                ? content().phrases.holds.reverse.help
                : `${costWords(props.table, now())} ${content().phrases.holds[now()].help}`
            }
          />
          <Show when={asksWho()}>
            <div class="hold-checks" role="group" aria-label={w('leave.decides')}>
              <Deciders chosen={decides()} onChoose={setDecides} />
            </div>
          </Show>
          <Switch>
            <Match when={now() === 'reverse'}>
              <div class="hold-answers">
                <Touch size="card" onAct={() => void props.table.confirmReverse()}>
                  {w('hold.reverse-yes')}
                </Touch>
                <Another table={props.table} />
              </div>
            </Match>
            <Match when={reason()}>
              {(why) => (
                <div class="hold-answers">
                  <Another table={props.table} />
                  <Touch size="card" consequential onAct={() => void goOn(why())}>
                    {w('hold.past-stop', { reason: why() })}
                  </Touch>
                </div>
              )}
            </Match>
            <Match when={true}>
              <div class="hold-reasons" role="group" aria-label={w('hold.reasons')}>
                <For each={reasons()}>
                  {(why) => (
                    <Touch size="card" onAct={() => chosen(why)}>
                      {w('hold.go-on-because', { reason: why })}
                    </Touch>
                  )}
                </For>
                <Another table={props.table} />
              </div>
            </Match>
          </Switch>
        </div>
      )}
    </Show>
  );
}

function Another(props: { table: Table }) {
  return (
    <Touch size="card" onAct={() => props.table.home()}>
      {props.table.app.w('hold.another')}
    </Touch>
  );
}
