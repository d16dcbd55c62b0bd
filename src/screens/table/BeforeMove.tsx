import { For, Match, Show, Switch, createEffect, createMemo, createSignal, on } from 'solid-js';
import type { Answer, HoldId } from '../../../content/ids.ts';
import { asksThin } from '../../../machines/ladder/before.ts';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { effective } from '../../session/effective.ts';
import { useApp, type App } from '../app.ts';
import { sourceWords } from '../source-words.ts';
import { beforeTitle, costWords } from './before-words.ts';
import { CheckTouches, createChecks } from './Checks.tsx';
import { Deciders } from './Deciders.tsx';
import { decidersOf } from './deciders.ts';
import { waitingWords } from './marks.ts';
import type { Table } from './state.ts';

/**
 * All that stands before the pending move, on one sheet: what lies beyond the far wall, the bone, reverse last. Each
 * answer is an entry of its own; what comes after stands in a line beneath.
 */
export function BeforeMove(props: { table: Table }) {
  const app = useApp();
  const { w, content } = app;
  const checks = createChecks();
  const [goesOn, setGoesOn] = createSignal(false);
  /** Past the upper limit it takes a second touch. */
  const [reason, setReason] = createSignal<string | null>(null);
  const [decides, setDecides] = createSignal<string | undefined>(undefined);
  const hold = createMemo((): HoldId | null => props.table.pendingHolds()[0] ?? null);
  const clear = () => {
    checks.clear();
    setGoesOn(false);
    setReason(null);
    setDecides(undefined);
  };
  createEffect(on(hold, clear, { defer: true }));
  createLayoutGuard(() => `${hold()} ${goesOn()} ${reason()}`);
  const row = () => content().holds.find(({ id }) => id === hold());
  const ids = () =>
    hold() === 'bone-consider'
      ? thinAsked(props.table)
        ? ['thinBone']
        : []
      : (row()?.checks ?? []).map(({ id }) => id);
  const asksWho = () => reason() !== null && decidersOf(app).length > 0;
  const rest = () =>
    [
      props.table
        .pendingHolds()
        .slice(1)
        .map((next) => content().phrases.holds[next].glance),
    ]
      .filter((names) => names.length > 0)
      .map((names) => w('before.then', { holds: names.join(', ') }))
      .concat(
        waitingWords(
          app,
          props.table.queue().filter((other) => !props.table.standing().includes(other)),
        ),
      )
      .join(' ');
  const text = (id: HoldId) => {
    const help = content().phrases.holds[id].help;
    const bone = id === 'bone-stop' || id === 'bone-consider';
    return `${bone ? `${costWords(props.table, id)} ` : ''}${help} ${rest()}`.trim();
  };
  const give = async (answer: Answer, why?: string) => {
    const now = hold();
    if (now === null) return;
    const said = ids().length > 0 && Object.keys(checks.said()).length > 0 ? { checks: checks.said() } : {};
    if (!(await props.table.answer(now, answer, why, decides(), said)).ok) return;
    if (answer === 'stop') return props.table.home();
    if (answer === 'heeded')
      return now === 'bone-unmeasured' ? props.table.setPanel({ kind: 'sheet', sheet: 'measure' }) : props.table.home();
    clear();
    await props.table.startPending();
  };
  const choose = (why: string) => (hold() === 'bone-stop' ? setReason(why) : void give('go-on', why));
  const label = (answer: Answer) =>
    answer === 'heeded' ? w(hold() === 'bone-unmeasured' ? 'before.measure' : 'before.heeded') : w(`answer.${answer}`);
  return (
    <Show when={hold()}>
      {(now) => (
        <div class="hold-panel" classList={{ 'with-checks': asksWho() || (ids().length > 0 && reason() === null) }}>
          <div>
            <Band kind="hold" title={beforeTitle(props.table, now())} text={text(now())} />
            <Show when={now() === 'far-wall'}>
              <Beyond />
            </Show>
          </div>
          <Show when={asksWho()}>
            <div class="hold-checks" role="group" aria-label={w('leave.decides')}>
              <Deciders chosen={decides()} onChoose={setDecides} />
            </div>
          </Show>
          <Show when={ids().length > 0 && reason() === null}>
            <CheckTouches ids={ids()} said={checks.said()} onTouch={checks.touch} />
          </Show>
          <Switch>
            <Match when={now() === 'reverse'}>
              <div class="hold-answers">
                <Touch size="card" onAct={() => void props.table.confirmReverse()}>
                  {w('hold.reverse-yes')}
                </Touch>
                <Touch size="card" onAct={() => props.table.home()}>
                  {w('hold.another')}
                </Touch>
              </div>
            </Match>
            <Match when={reason()}>
              {(why) => (
                <div class="hold-answers">
                  <Touch size="card" onAct={() => void give('heeded')}>
                    {w('before.heeded')}
                  </Touch>
                  <Touch size="card" consequential onAct={() => void give('go-on', why())}>
                    {w('hold.past-stop', { reason: why() })}
                  </Touch>
                </div>
              )}
            </Match>
            <Match when={goesOn()}>
              <div class="hold-reasons" role="group" aria-label={w('hold.reasons')}>
                <For each={row()?.reasons ?? []}>
                  {(why) => (
                    <Touch size="card" onAct={() => choose(why)}>
                      {w('hold.go-on-because', { reason: why })}
                    </Touch>
                  )}
                </For>
                <Touch size="card" onAct={() => setGoesOn(false)}>
                  {w('table.back')}
                </Touch>
              </div>
            </Match>
            <Match when={true}>
              <div class="hold-answers">
                <For each={row()?.answers ?? []}>
                  {(answer) => (
                    <Touch size="card" onAct={() => (answer === 'go-on' ? setGoesOn(true) : void give(answer))}>
                      {label(answer)}
                    </Touch>
                  )}
                </For>
              </div>
            </Match>
          </Switch>
        </div>
      )}
    </Show>
  );
}

/** Is somebody to be asked whether the bone is thin, and nobody was yet? */
function thinAsked({ app, context }: Table): boolean {
  const [open, screw] = [app.open(), context()];
  if (!open || !screw || !asksThin(app.content(), open.folded.case.context.room, screw)) return false;
  return !effective(open).some((entry) => entry.type === 'hold-answered' && entry.checks?.['thinBone'] !== undefined);
}

/** The source of what lies beyond; of what comes from memory only that it does. */
function beyondSource(app: App, id: string): string {
  const status = app.content().sources.find((row) => row.id === id)?.status;
  return status === 'from-memory' ? `(${app.w('status.from-memory')})` : sourceWords(app, id);
}

/** What lies beyond the far wall of this bone, each with its source and how far that was read. */
function Beyond() {
  const app = useApp();
  const rows = () => {
    const bone = app.open()?.folded.case.context.room.opened?.bone.trim().toLowerCase();
    return app.content().beyond.filter((row) => row.bone === bone);
  };
  return (
    <ul class="beyond">
      <For each={rows()} fallback={<li>{app.w('before.nothing-listed')}</li>}>
        {(row) => (
          <li>
            {row.where === null ? '' : `${row.where}: `}
            {row.text} <small class="soft">{beyondSource(app, row.source)}</small>
          </li>
        )}
      </For>
    </ul>
  );
}
