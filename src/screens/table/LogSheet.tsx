import { For, Show, createSignal } from 'solid-js';
import type { Entry } from '../../../machines/entry.ts';
import { inZone, epoch } from '../../../machines/time.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { sayEntry } from './said.ts';
import type { Table } from './state.ts';
import { useApp } from '../app.ts';

/** Every entry, the latest first. A correction strikes, with a reason; nothing is erased. */
export function LogSheet(props: { table: Table }) {
  const { w, open, view } = useApp();
  const [striking, setStriking] = createSignal<number | null>(null);
  const [typed, setTyped] = createSignal('');
  createLayoutGuard(striking);
  const ask = (entry: number | null) => {
    setTyped('');
    setStriking(entry);
  };
  const entries = () => open()?.entries ?? [];
  const say = (entry: Entry) => {
    const now = open();
    return now ? sayEntry(entry, now.folded) : '';
  };
  const zone = () => open()?.folded.case.context.room.opened?.zone ?? 'UTC';
  const marks = (n: number) =>
    [
      view()?.struck.includes(n) && w('log.struck'),
      view()?.late.includes(n) && w('log.late'),
      view()?.outOfOrder.includes(n) && w('log.out-of-order'),
      open()?.folded.impossibleTimes.includes(n) && w('log.impossible'),
      view()?.conflicts.some((pair) => pair.includes(n)) && w('log.conflict'),
      view()?.unanswered.some(({ entry }) => entry === n) && w('log.unanswered'),
    ].filter(Boolean);
  const strike = async (reason: string) => {
    const entry = striking();
    if (entry === null) return;
    if ((await props.table.record({ type: 'struck', entry, reason })).ok) ask(null);
  };
  const list = (
    <ol class="log">
      <For each={[...entries()].reverse()}>
        {(entry) => (
          <li classList={{ 'log-struck': view()?.struck.includes(entry.n) ?? false }}>
            <span class="figure">{inZone(epoch(entry.at), zone()).time}</span>
            <span class="log-text">
              {say(entry)} <Show when={marks(entry.n).length}>({marks(entry.n).join(', ')})</Show>
            </span>
            <Show when={entry.type !== 'struck' && !view()?.struck.includes(entry.n)}>
              <Touch size="small" onAct={() => ask(entry.n)} label={w('log.strike-which', { n: entry.n })}>
                {w('log.strike')}
              </Touch>
            </Show>
          </li>
        )}
      </For>
    </ol>
  );
  return (
    <Sheet title={w('log.title')} close={w('table.back')} onClose={() => props.table.home()}>
      <Show when={striking()} fallback={list}>
        {(n) => (
          <div class="log-strike">
            <b>{w('log.strike-which', { n: n() })}</b>
            <p>{say(entries()[n() - 1] as Entry)}</p>
            <div class="choice-row">
              <For each={['mistap', 'wrong-screw', 'wrong-time', 'misheard']}>
                {(reason) => (
                  <Touch onAct={() => void strike(w(`log.reason.${reason}`))}>{w(`log.reason.${reason}`)}</Touch>
                )}
              </For>
              <Touch onAct={() => ask(null)}>{w('log.keep')}</Touch>
            </div>
            <TextEntry label={w('log.other-reason')} value={typed()} onInput={setTyped} />
            <Touch
              onAct={() => void strike(typed().trim())}
              closed={typed().trim() === '' ? w('leave.no-words') : undefined}
            >
              {w('log.strike')}
            </Touch>
          </div>
        )}
      </Show>
    </Sheet>
  );
}
