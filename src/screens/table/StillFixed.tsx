import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import type { Answer } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { Evidence } from './Evidence.tsx';
import type { Table } from './state.ts';

/** Where the numbers themselves take two rows the answers come behind them, or where nobody counts. */
export const takesRows = (screws: number): boolean => screws > 5;

/** What still holds a part that is to be taken off: two counts, or why to go on all the same, or stop. */
export function StillFixed(props: { table: Table; onStop: () => void; onGone?: () => void }) {
  const { w, content, view } = useApp();
  const [seen, setSeen] = createSignal<number | null>(null);
  const [out, setOut] = createSignal<number | null>(null);
  const reasons = () => content().holds.find(({ id }) => id === 'still-fixed')?.reasons ?? [];
  /** The view is new with every second, and what it tells is not: a touch drawn anew under a finger would be lost. */
  const listed = createMemo(() => Object.keys(view()?.screws ?? {}).length);
  /** One more than are listed: a screw nobody knew of shows on the image. */
  const numbers = () => Array.from({ length: listed() + 2 }, (_, count) => count);
  const isLong = () => takesRows(listed());
  const [uncounted, setUncounted] = createSignal(false);
  const answers = () => !isLong() || uncounted() || out() !== null;
  // One after the other: two rows of numbers would leave the answers no room.
  createLayoutGuard(() => `${seen() !== null} ${answers()}`);
  const options = createMemo(() => numbers().map((value) => ({ value, label: String(value) })));
  const counted = () => ({
    ...(seen() !== null && { seen: seen() as number }),
    ...(out() !== null && { out: out() as number }),
  });
  const give = async (answer: Answer, reason?: string) => {
    if (!(await props.table.answer('still-fixed', answer, reason, undefined, counted())).ok) return;
    if (answer === 'stop') props.onStop();
    else props.onGone?.();
  };
  const told = (label: string, count: number | null) => (
    <Show when={count !== null}>
      <span>
        {label}: <b>{count}</b>{' '}
      </span>
    </Show>
  );
  return (
    <div class="still-fixed">
      <Switch
        fallback={
          <p class="small">
            {told(w('pause.seen'), seen())}
            {told(w('pause.out'), out())}
          </p>
        }
      >
        <Match when={seen() === null && !uncounted()}>
          <Choice label={w('pause.seen')} options={options()} value={seen()} onChoose={setSeen} />
        </Match>
        <Match when={!isLong() || !answers()}>
          <Choice
            label={`${w('pause.seen')}: ${seen()}. ${w('pause.out')}`}
            options={options()}
            value={out()}
            onChoose={setOut}
          />
        </Match>
      </Switch>
      <div class="still-fixed-answers" role="group" aria-label={w('hold.reasons')}>
        <Show when={answers()} fallback={<Touch onAct={() => setUncounted(true)}>{w('pause.not-counted')}</Touch>}>
          <Touch
            onAct={() => void give('confirmed')}
            closed={seen() === null || out() === null ? w('pause.both-counts') : undefined}
          >
            {w('pause.counted')}
          </Touch>
        </Show>
        <Touch onAct={() => void give('stop')}>{w('answer.stop')}</Touch>
        <For each={answers() ? reasons() : []}>
          {(reason) => <Touch onAct={() => void give('go-on', reason)}>{w('hold.go-on-because', { reason })}</Touch>}
        </For>
      </div>
      <Show when={answers()}>
        <Evidence holds={['still-fixed']} />
      </Show>
    </div>
  );
}
