import { Show, createMemo, untrack } from 'solid-js';
import { capHeight, capHeightMm, angles } from '../parts/type-size.ts';
import { useApp } from './app.ts';
import { betweenCounts, betweenLines } from './table/between.ts';
import { OpenLines } from './table/OpenLines.tsx';
import { createLevel, Section, Side } from './table/Pictures.tsx';
import type { Table } from './table/state.ts';

/** The right half of a wide wall: the called screw in its bone, its section, how many are out, what stands open. */
export function WallAside(props: { table: Table }) {
  const app = useApp();
  const level = createLevel(untrack(() => props.table));
  /** The least that is read from where the surgeon stands. */
  const fontMm = () => capHeightMm(app.preferences().distance, angles.floor) / capHeight;
  const counts = () => betweenCounts(app);
  const lines = createMemo(() => betweenLines(app).filter(({ id }) => id !== `screw-${props.table.called() ?? ''}`));
  return (
    <aside class="wall-aside" style={{ '--glance': `calc(${fontMm()} * var(--mm))` }}>
      <Show when={level()}>
        {(at) => (
          <div class="wall-pictures">
            <Side table={props.table} level={at()} />
            <Section table={props.table} level={at()} label={app.content().phrases.stages[at().screw.stage].label} />
          </div>
        )}
      </Show>
      <ul class="wall-lines">
        <li>
          <b class="figure">{counts().out}</b>
          <Show when={counts().plate}>{(plate) => <span>{plate()}</span>}</Show>
        </li>
        <OpenLines lines={lines()} />
      </ul>
    </aside>
  );
}
