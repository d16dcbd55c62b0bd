import { For, Show } from 'solid-js';
import { isPlateOn } from '../../../machines/case.context.ts';
import { ScrewGlyph } from '../../pictures/ScrewGlyph.tsx';
import { useApp } from '../app.ts';
import type { AccountRow } from './account.ts';

/** How the account of a screw stands: nobody closed it, it stays and is accounted for, or it is out and closed. */
export type Closes = 'open' | 'stays' | 'closed';

/**
 * How the account of a row stands in the picture.
 *
 * @example closesOf({ state: 'accounted', stage: 'left-in' }) // 'stays'
 */
export const closesOf = ({ state, stage }: Pick<AccountRow, 'state' | 'stage'>): Closes => {
  if (state !== 'accounted') return 'open';
  return stage === 'left-in' ? 'stays' : 'closed';
};

/** The whole metal in its order, and how each screw of it closes: what is still open is boxed in a broken line. */
export function MetalPicture(props: { rows: readonly AccountRow[] }) {
  const app = useApp();
  const { w } = app;
  const screws = () => props.rows.filter(({ screw }) => screw !== null);
  const room = () => app.open()?.folded.case.context.room;
  const bar = () => {
    const construct = room()?.opened?.construct;
    return construct === 'plate' && room() && !isPlateOn(room()!) ? 'plate-off' : construct;
  };
  const counts = () =>
    (['open', 'closed', 'stays'] as const).map((kind) => ({
      kind,
      count: screws().filter((row) => closesOf(row) === kind).length,
    }));
  /** Plates, tips and other parts: the picture has no place for them. */
  const others = () => props.rows.filter(({ screw }) => screw === null);
  const othersOpen = () => others().filter((row) => closesOf(row) === 'open').length;
  return (
    <Show when={screws().length > 0}>
      <figure class="metal-picture">
        <ol data-bar={bar()} aria-label={w('closing.metal')}>
          <For each={screws()}>
            {(row) => (
              <li data-closes={closesOf(row)}>
                <b>{row.screw}</b>
                <ScrewGlyph stage={row.stage ?? 'seated'} />
                <span class="only-spoken">{w(`closing.closes.${closesOf(row)}`)}</span>
              </li>
            )}
          </For>
        </ol>
        <figcaption class="small">
          <For each={counts()}>
            {({ kind, count }) => (
              <span data-closes={kind}>
                <b class="figure">{count}</b> {w(`closing.closes.${kind}`)}
              </span>
            )}
          </For>
          <Show when={others().length > 0}>
            <span>{w('closing.closes.others', { open: othersOpen(), all: others().length })}</span>
          </Show>
        </figcaption>
      </figure>
    </Show>
  );
}
