import { For, Show, createMemo } from 'solid-js';
import { ScrewGlyph } from '../../pictures/ScrewGlyph.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { createRoomOf } from '../size.ts';
import { betweenCounts, betweenLines } from './between.ts';
import { OpenLines } from './OpenLines.tsx';
import type { Table } from './state.ts';
import './between.css';

/** Height of the row of screws with its gap, and of a line, mm; see `between.css`. */
const headMm = 17;
const lineMm = 11;

/** Between two screws: how many are out, which are in trouble, what stands open, the time against the plan. */
export function Between() {
  const app = useApp();
  const { room, ref } = createRoomOf(app, { width: 160, height: 80 });
  const screws = () => Object.entries(app.view()?.screws ?? {});
  const counts = () => betweenCounts(app);
  const lines = createMemo(() => betweenLines(app));
  /** As many as have room; the last place says how many more there are. */
  const fit = () => Math.max(0, Math.floor((room().height - headMm) / lineMm));
  const shown = () => (lines().length <= fit() ? lines() : lines().slice(0, Math.max(0, fit() - 1)));
  return (
    <section class="between" ref={ref}>
      <div class="between-head">
        <p class="between-screws" aria-hidden="true">
          <For each={screws()}>
            {([id, { stage }]) => (
              <span>
                <ScrewGlyph stage={stage} />
                <small class="figure">{id}</small>
              </span>
            )}
          </For>
        </p>
        <p class="between-counts">
          <b class="figure">{counts().out}</b>
          <Show when={counts().plate}>{(plate) => <span>{plate()}</span>}</Show>
        </p>
      </div>
      <ul class="between-lines">
        <OpenLines lines={shown()} />
        <Show when={shown().length < lines().length && fit() > 0}>
          <li>
            <span>{app.w('between.more', { count: lines().length - shown().length })}</span>
          </li>
        </Show>
      </ul>
    </section>
  );
}

/** What is most often wanted while no screw is called. */
const wanted = ['forecast', 'clocks', 'tool', 'bone'] as const;

/** Between two screws, nothing being asked: what is else two touches away. */
export function BetweenTouches(props: { table: Table }) {
  const { w } = useApp();
  return (
    <div class="between-touches">
      <For each={wanted}>
        {(sheet) => <Touch onAct={() => props.table.setPanel({ kind: 'sheet', sheet })}>{w(`more.${sheet}`)}</Touch>}
      </For>
    </div>
  );
}
