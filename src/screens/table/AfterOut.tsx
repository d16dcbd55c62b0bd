import { Show } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import './sheets-style.ts';
import { useApp } from '../app.ts';
import { hasAllEnded } from './ended.ts';
import type { Table } from './state.ts';

/** What is asked of a screw that just came out, and the closing once none is in any more. */
export function AfterOut(props: { table: Table }) {
  const { w, view, open, go } = useApp();
  const listed = () => view()?.screws[props.table.lastOut() ?? '']?.metal.listed ?? null;
  const broke = () => (open()?.folded.screws.get(props.table.lastOut() ?? '')?.context.breaks.length ?? 0) > 0;
  return (
    <div class="after-out">
      <Show when={props.table.lastOut()}>
        <Touch size="card" onAct={() => void props.table.whole()}>
          {w(broke() ? 'length.complete-seen' : 'length.whole-seen')}
        </Touch>
        <Show when={listed()}>
          {(length) => (
            <Touch size="card" onAct={() => void props.table.measured(length())}>
              {w('length.whole', { length: length() })}
            </Touch>
          )}
        </Show>
        <Touch size="card" onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'length' })}>
          {w('length.other')}
        </Touch>
      </Show>
      <Show when={hasAllEnded(view())}>
        <Touch size="card" onAct={() => go('closing')}>
          {w('more.closing')}
        </Touch>
      </Show>
    </div>
  );
}
