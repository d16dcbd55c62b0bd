import { Show } from 'solid-js';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Table } from './state.ts';

/** While something earlier is told: a band over the full width, with its way back to now. */
export function LateBand(props: { table: Table }) {
  const { w } = useApp();
  createLayoutGuard(() => String(props.table.isLate()));
  return (
    <Show when={props.table.isLate()}>
      <div class="late-band">
        <Band kind="hold" title={w('when.band', { minutes: props.table.when().minutesAgo ?? 0 })}>
          <Touch onAct={() => props.table.now()}>{w('when.now-again')}</Touch>
        </Band>
      </div>
    </Show>
  );
}
