import { For, Show } from 'solid-js';
import type { Answer, HoldId } from '../../../content/ids.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { CheckTouches, createChecks } from './Checks.tsx';
import { Evidence } from './Evidence.tsx';
import { StillFixed, takesRows } from './StillFixed.tsx';
import type { Table } from './state.ts';

/** All that is asked by the hold that gives pause: its checks or its two counts, and the reasons for going on. */
export function PauseSheet(props: { table: Table; hold: HoldId }) {
  const { w, content, view } = useApp();
  const checks = createChecks();
  createLayoutGuard(() => props.hold);
  const row = () => content().holds.find(({ id }) => id === props.hold);
  const more = () => (Object.keys(checks.said()).length > 0 ? { checks: checks.said() } : {});
  const give = async (answer: Answer, reason?: string) => {
    if ((await props.table.answer(props.hold, answer, reason, undefined, more())).ok) props.table.home();
  };
  return (
    <Sheet title={content().phrases.holds[props.hold].label} close={w('table.back')} onClose={() => props.table.home()}>
      <Show when={props.hold !== 'still-fixed' || !takesRows(Object.keys(view()?.screws ?? {}).length)}>
        <p>
          <small>{content().phrases.holds[props.hold].help}</small>
        </p>
      </Show>
      <Show
        when={props.hold !== 'still-fixed'}
        fallback={
          <StillFixed table={props.table} onStop={() => props.table.home()} onGone={() => props.table.home()} />
        }
      >
        <Show when={(row()?.checks.length ?? 0) > 0}>
          <CheckTouches ids={row()?.checks.map(({ id }) => id) ?? []} said={checks.said()} onTouch={checks.touch} />
        </Show>
        <div class="choice-row" role="group" aria-label={w('hold.reasons')}>
          <For each={row()?.reasons ?? []}>
            {(reason) => <Touch onAct={() => void give('go-on', reason)}>{w('hold.go-on-because', { reason })}</Touch>}
          </For>
          <Show when={row()?.answers.includes('heeded')}>
            <Touch onAct={() => void give('heeded')}>{w('answer.heeded')}</Touch>
          </Show>
          <Touch onAct={() => void give('stop')}>{w('answer.stop')}</Touch>
        </div>
        <Evidence holds={[props.hold]} />
      </Show>
    </Sheet>
  );
}
