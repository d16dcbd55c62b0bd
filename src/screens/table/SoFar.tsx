import { For, Show, untrack } from 'solid-js';
import { capital } from '../../format/prose.ts';
import { useApp } from '../app.ts';
import { createTried } from './Stair.tsx';
import type { Table } from './state.ts';

/** Every move made on the called screw so far, with its time and how it ended. */
export function SoFar(props: { table: Table }) {
  const { w, content } = useApp();
  const words = createTried(untrack(() => props.table));
  return (
    <Show when={props.table.called()}>
      {(screw) => (
        <section>
          <h3>{w('stair.so-far', { screw: screw() })}</h3>
          <Show when={words.tried().length > 0} fallback={<p class="small">{w('stair.nothing')}</p>}>
            <ol class="so-far small">
              <For each={words.tried()}>
                {(one) => (
                  <li>
                    <b class="figure">{words.time(one)}</b> {content().phrases.stages[one.stage].glance}:{' '}
                    {capital(words.made(one))}, {words.ended(one)}
                  </li>
                )}
              </For>
            </ol>
          </Show>
        </section>
      )}
    </Show>
  );
}
