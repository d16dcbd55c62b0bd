import { For, Show } from 'solid-js';
import type { Fault } from '../../../machines/entry.ts';
import { useApp } from '../app.ts';

/** What a file was refused for, each with its place. */
export function Faults(props: { faults: readonly Fault[] }) {
  const { w } = useApp();
  return (
    <Show when={props.faults.length > 0}>
      <div role="status">
        <b>{w('plan.refused', { count: props.faults.length })}</b>
        <ul class="small">
          <For each={props.faults.slice(0, 20)}>
            {({ path, message }) => (
              <li>
                <b>{path}</b>: {message}
              </li>
            )}
          </For>
        </ul>
      </div>
    </Show>
  );
}
