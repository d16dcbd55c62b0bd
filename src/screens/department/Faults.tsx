import { For, Show } from 'solid-js';
import type { Fault } from '../../../content/shape.ts';
import { useApp } from '../app.ts';
import { faultWords } from '../failure-words.ts';

/** What is wrong with one field, beside it. */
export function FieldFaults(props: { faults: readonly Fault[] }) {
  const { w } = useApp();
  return (
    <Show when={props.faults.length > 0}>
      <div class="field-faults small" role="status">
        <For each={props.faults}>{(fault) => <p>{faultWords(w, fault)}</p>}</For>
      </div>
    </Show>
  );
}
