import { For, Show, createEffect, createSignal, on } from 'solid-js';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { percent } from '../../format/figures.ts';
import { Touch } from '../../parts/Touch.tsx';
import { ReassessByTool } from './ReassessByTool.tsx';
import { LookAnswers } from './LookAnswers.tsx';
import type { Table } from './state.ts';
import './sheets-style.ts';
import { useApp } from '../app.ts';

const checks = ['recessCleared', 'fullySeated', 'inLine', 'freshDriver'] as const;

/** H1 by the ladder of the content. */
export function Reassess(props: { table: Table }) {
  return (
    <Show when={props.table.isSecond()} fallback={<ReassessFirst table={props.table} />}>
      <ReassessByTool table={props.table} />
    </Show>
  );
}

/** H1: look again before anything turns, or of one's own accord. Each check is optional; one touch says that somebody has looked. */
function ReassessFirst(props: { table: Table }) {
  const { w, content } = useApp();
  const [checked, setChecked] = createSignal<Partial<Record<(typeof checks)[number], boolean>>>({});
  const phrase = () => content().phrases.holds.reassess;
  const left = () => props.table.screw()?.chanceLeft;
  // What was seen on one screw was not seen on another.
  const screw = () => props.table.called();
  createEffect(on(screw, () => setChecked({}), { defer: true }));
  createLayoutGuard(screw);
  const toggle = (check: (typeof checks)[number]) => setChecked((all) => ({ ...all, [check]: !all[check] }));
  const looked = async () => {
    const id = screw();
    if (id === null) return;
    const result = await props.table.record({
      type: 'reassessed',
      screw: id,
      checks: checked(),
    });
    if (result.ok) props.table.home();
  };
  return (
    <div class="hold-panel with-checks">
      <Band
        kind="hold"
        title={props.table.reassess() ? phrase().label : w('look.again')}
        text={
          !props.table.reassess() || left() === null || left() === undefined
            ? phrase().help
            : `${phrase().help} ${w('hold.chance', { share: percent(left() ?? 0) })}`
        }
      />
      <div class="hold-checks" role="group" aria-label={w('hold.checks')}>
        <For each={checks}>
          {(check) => (
            <Touch size="card" pressed={checked()[check] === true} onAct={() => toggle(check)}>
              {w(`check.${check}`)}
            </Touch>
          )}
        </For>
      </div>
      <LookAnswers table={props.table} onLooked={() => void looked()} />
    </div>
  );
}
