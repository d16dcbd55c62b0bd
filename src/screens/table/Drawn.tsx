import { Show, createMemo, createSignal, untrack } from 'solid-js';
import { Dynamic } from 'solid-js/web';
import { isPlateOn } from '../../../machines/case.context.ts';
import { deferred } from '../../deferred.ts';
import type { Scene } from '../../pictures/moves/index.tsx';
import type { Table } from './state.ts';

/** No resumed case waits for the drawings: their places are kept, and they come in a script of their own. */
const drawings = deferred(() => import('../../pictures/moves/index.tsx'));
type Drawings = Awaited<ReturnType<typeof drawings.load>>;
const [loaded, setLoaded] = createSignal<Drawings | undefined>(undefined);
const bring = () => {
  const there = drawings.loaded();
  if (there) setLoaded(() => there);
  else
    drawings.load().then(
      (found) => setLoaded(() => found),
      () => {
        // Words stand beside every drawing; it is asked for again at the next one.
      },
    );
};

/** The called screw as it is drawn: with its head or without, under a plate or not. */
export function sceneOf(table: Table): Scene {
  const stage = table.screw()?.stage ?? 'seated';
  const room = table.app.open()?.folded.case.context.room;
  return {
    headed: stage === 'seated' || stage === 'recess-stripped',
    emptied: stage === 'recess-stripped',
    deep: stage === 'fragment-retained',
    plate: room !== undefined && isPlateOn(room) && table.context()?.facts.underPlate !== false,
  };
}

/** The place of a drawing, empty until it is there. */
export function Drawn(props: { table: Table; move?: string; outcome?: string }) {
  if (!untrack(loaded)) bring();
  // Another one only when what is drawn is another: an entry that tells of something else draws nothing anew.
  const scene = createMemo(() => sceneOf(props.table), undefined, {
    equals: (a, b) => a.headed === b.headed && a.emptied === b.emptied && a.deep === b.deep && a.plate === b.plate,
  });
  return (
    <span class="card-drawing" aria-hidden="true">
      <Show when={loaded()}>
        {(found) => (
          <Show
            when={props.move}
            fallback={<Dynamic component={found().OutcomePicture} outcome={props.outcome ?? ''} scene={scene()} />}
          >
            {(move) => <Dynamic component={found().MovePicture} move={move()} scene={scene()} />}
          </Show>
        )}
      </Show>
    </span>
  );
}
