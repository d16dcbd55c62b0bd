import { For, Match, Show, Switch, createSignal } from 'solid-js';
import type { Answer, HoldId } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { CheckTouches, createChecks } from './Checks.tsx';
import type { Table } from './state.ts';

/** All that is asked by the hold that gives pause: its checks or its two counts, and the reasons for going on. */
export function PauseSheet(props: { table: Table; hold: HoldId }) {
  const { w, content } = useApp();
  const checks = createChecks();
  const [seen, setSeen] = createSignal<number | null>(null);
  const [out, setOut] = createSignal<number | null>(null);
  createLayoutGuard(() => props.hold);
  const row = () => content().holds.find(({ id }) => id === props.hold);
  const counted = () => ({
    ...(seen() !== null && { seen: seen() as number }),
    ...(out() !== null && { out: out() as number }),
  });
  const more = () =>
    props.hold === 'still-fixed' ? counted() : Object.keys(checks.said()).length > 0 ? { checks: checks.said() } : {};
  const give = async (answer: Answer, reason?: string) => {
    if ((await props.table.answer(props.hold, answer, reason, undefined, more())).ok) props.table.home();
  };
  return (
    <Sheet title={content().phrases.holds[props.hold].label} close={w('table.back')} onClose={() => props.table.home()}>
      <p>
        <small>{content().phrases.holds[props.hold].help}</small>
      </p>
      <Switch>
        <Match when={props.hold === 'still-fixed'}>
          <Counts table={props.table} seen={seen()} out={out()} onSeen={setSeen} onOut={setOut} />
          <Touch
            onAct={() => void give('confirmed')}
            closed={seen() === null || out() === null ? w('pause.both-counts') : undefined}
          >
            {w('pause.counted')}
          </Touch>
        </Match>
        <Match when={(row()?.checks.length ?? 0) > 0}>
          <CheckTouches ids={row()?.checks.map(({ id }) => id) ?? []} said={checks.said()} onTouch={checks.touch} />
        </Match>
      </Switch>
      <div class="choice-row" role="group" aria-label={w('hold.reasons')}>
        <For each={row()?.reasons ?? []}>
          {(reason) => <Touch onAct={() => void give('go-on', reason)}>{w('hold.go-on-because', { reason })}</Touch>}
        </For>
        <Show when={row()?.answers.includes('heeded')}>
          <Touch onAct={() => void give('heeded')}>{w('answer.heeded')}</Touch>
        </Show>
        <Touch onAct={() => void give('stop')}>{w('answer.stop')}</Touch>
      </div>
    </Sheet>
  );
}

interface CountsProps {
  table: Table;
  seen: number | null;
  out: number | null;
  onSeen: (count: number) => void;
  onOut: (count: number) => void;
}

/** Screws on the image and screws out, each counted by somebody: nothing is chosen beforehand. */
function Counts(props: CountsProps) {
  const { w, view } = useApp();
  /** One more than are listed: a screw nobody knew of shows on the image. */
  const numbers = () => Array.from({ length: Object.keys(view()?.screws ?? {}).length + 2 }, (_, count) => count);
  const options = () => numbers().map((value) => ({ value, label: String(value) }));
  return (
    <>
      <Choice
        label={w('pause.seen')}
        options={options()}
        value={props.seen}
        onChoose={(count) => props.onSeen(count)}
      />
      <Choice label={w('pause.out')} options={options()} value={props.out} onChoose={(count) => props.onOut(count)} />
    </>
  );
}
