import { For, Show, createSignal } from 'solid-js';
import type { Answer } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Table } from './state.ts';

/** What still holds a part that is to be taken off: two counts, or why to go on all the same, or stop. */
export function StillFixed(props: { table: Table; onStop: () => void; onGone?: () => void }) {
  const { w, content, view } = useApp();
  const [seen, setSeen] = createSignal<number | null>(null);
  const [out, setOut] = createSignal<number | null>(null);
  // One after the other: with many screws two rows of numbers would leave the answers no room.
  createLayoutGuard(() => seen() !== null);
  const reasons = () => content().holds.find(({ id }) => id === 'still-fixed')?.reasons ?? [];
  /** One more than are listed: a screw nobody knew of shows on the image. */
  const numbers = () => Array.from({ length: Object.keys(view()?.screws ?? {}).length + 2 }, (_, count) => count);
  const options = () => numbers().map((value) => ({ value, label: String(value) }));
  const counted = () => ({
    ...(seen() !== null && { seen: seen() as number }),
    ...(out() !== null && { out: out() as number }),
  });
  const give = async (answer: Answer, reason?: string) => {
    if (!(await props.table.answer('still-fixed', answer, reason, undefined, counted())).ok) return;
    if (answer === 'stop') props.onStop();
    else props.onGone?.();
  };
  return (
    <div class="still-fixed">
      <Show
        when={seen() !== null}
        fallback={<Choice label={w('pause.seen')} options={options()} value={seen()} onChoose={setSeen} />}
      >
        <p class="small">
          {w('pause.seen')}: <b>{seen()}</b>
        </p>
        <Choice label={w('pause.out')} options={options()} value={out()} onChoose={setOut} />
      </Show>
      <div class="still-fixed-answers" role="group" aria-label={w('hold.reasons')}>
        <Touch
          onAct={() => void give('confirmed')}
          closed={seen() === null || out() === null ? w('pause.both-counts') : undefined}
        >
          {w('pause.counted')}
        </Touch>
        <Touch onAct={() => void give('stop')}>{w('answer.stop')}</Touch>
        <For each={reasons()}>
          {(reason) => <Touch onAct={() => void give('go-on', reason)}>{w('hold.go-on-because', { reason })}</Touch>}
        </For>
      </div>
    </div>
  );
}
