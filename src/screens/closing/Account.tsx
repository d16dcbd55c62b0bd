import { For, Show, createMemo, createSignal } from 'solid-js';
import { millimetres } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Mark } from '../../parts/Marks.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { MetalRow } from '../../pictures/MetalRow.tsx';
import { useApp } from '../app.ts';
import { createRoomOf } from '../size.ts';
import { piecesOf, scaleOf, type AccountRow } from './account.ts';
import { rowName, rowState } from './row-words.ts';

/** Least width and height of a row with the gap below it, mm. */
const cell = { width: 92, height: 25 };

/** Gap between rows, mm; the last row needs none. */
const gap = 3;

/** How many rows fit, by the room there is, mm. */
const fitting = ({ width, height }: { width: number; height: number }) =>
  Math.max(1, Math.floor((width + gap) / cell.width)) * Math.max(1, Math.floor((height + gap) / cell.height));

/** Every screw and tip in its place, each a touch. What does not fit stands on the next page; nothing scrolls. */
export function Account(props: { rows: readonly AccountRow[]; onOpen: (key: string) => void }) {
  const app = useApp();
  // Two by four until it has been measured.
  const { room, ref } = createRoomOf(app, { width: 2 * cell.width, height: 4 * cell.height });
  const [page, setPage] = createSignal(0);
  const fits = createMemo(() => fitting(room()));
  /** Where not all fit, the last place is for the two touches that turn the page. */
  const each = () => (props.rows.length <= fits() ? fits() : Math.max(1, fits() - 1));
  const pages = () => Math.max(1, Math.ceil(props.rows.length / each()));
  const at = () => Math.min(page(), pages() - 1);
  const shown = createMemo(() => props.rows.slice(at() * each(), (at() + 1) * each()));
  const isFirst = () => (at() > 0 ? undefined : app.w('closing.first-page'));
  const isLast = () => (at() < pages() - 1 ? undefined : app.w('closing.last-page'));
  const scale = createMemo(() => scaleOf(props.rows));
  createLayoutGuard(() => `${at()} ${each()}`);
  return (
    <section class="account-rows" ref={ref} aria-label={app.w('closing.account')}>
      <For each={shown()} fallback={<p>{app.w('closing.nothing-listed')}</p>}>
        {(row) => <Row row={row} scale={scale()} onOpen={() => props.onOpen(row.key)} />}
      </For>
      <Show when={pages() > 1}>
        <div class="account-pages">
          <Touch size="small" label={app.w('closing.previous')} closed={isFirst()} onAct={() => setPage(at() - 1)}>
            <Mark sign="previous" />
          </Touch>
          <Touch size="small" label={app.w('closing.next')} closed={isLast()} onAct={() => setPage(at() + 1)}>
            <Mark sign="next" />
          </Touch>
          <span class="figure">{app.w('closing.page', { page: at() + 1, pages: pages() })}</span>
        </div>
      </Show>
    </section>
  );
}

function Row(props: { row: AccountRow; scale: { length: number; thickness: number }; onOpen: () => void }) {
  const { w, content } = useApp();
  const name = () => rowName(props.row, w, content());
  return (
    <Touch size="card" class="account-row" onAct={() => props.onOpen()}>
      <span class="account-line">
        <span>{name()}</span>
        <b>{rowState(props.row, w)}</b>
      </span>
      <Show when={props.row.part === null}>
        <span class="account-line">
          <MetalRow
            listed={props.row.metal.listed}
            pieces={piecesOf(props.row)}
            diameter={props.row.diameter}
            scale={props.scale}
            label={w('closing.picture', { name: name() })}
          />
          <Listed row={props.row} />
        </span>
        <Figures row={props.row} />
      </Show>
    </Touch>
  );
}

/** The length that was listed, and within what the pieces add up to it. */
export function Listed(props: { row: AccountRow }) {
  const { w } = useApp();
  return (
    <span class="account-figure">
      {w('closing.listed')} <b class="figure">{millimetres(props.row.metal.listed, w('closing.length-unknown'))}</b>
      <Show when={props.row.tolerance}>{(within) => <> ± {millimetres(within())}</>}</Show>
    </span>
  );
}

/** Out, left and missing in words and mm. */
export function Figures(props: { row: AccountRow }) {
  const { w } = useApp();
  const metal = () => props.row.metal;
  const length = (mm: number | null) => millimetres(mm, w('closing.length-not-measured'));
  return (
    <span class="account-figures">
      <span class="account-figure">
        {w('closing.out')} <b class="figure">{length(metal().recovered)}</b>
      </span>
      <span class="account-figure">
        {w('closing.left')} <b class="figure">{length(metal().left)}</b>
      </span>
      <span class="account-figure" hidden={metal().unaccounted === null || metal().closes === 'assumed'}>
        {w(props.row.state === 'open' ? 'closing.still-in' : 'closing.missing')}{' '}
        <b class="figure">{millimetres(metal().unaccounted, w('closing.length-unknown'))}</b>
      </span>
    </span>
  );
}
