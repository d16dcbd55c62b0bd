import { Show } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Table } from './state.ts';

/** How a look ends: somebody has looked, or, where it is asked for, work goes on without. */
export function LookAnswers(props: { table: Table; onLooked: () => void }) {
  const { w } = useApp();
  return (
    <div class="hold-answers">
      <Touch size="card" onAct={() => props.onLooked()}>
        {w('hold.looked')}
      </Touch>
      <Show
        when={props.table.reassess()}
        fallback={
          <Touch size="card" onAct={() => props.table.home()}>
            {w('table.back')}
          </Touch>
        }
      >
        <Touch size="card" onAct={() => void props.table.answer('reassess', 'go-on', w('hold.not-looked'))}>
          {w('hold.go-on-unlooked')}
        </Touch>
      </Show>
    </div>
  );
}
