import { For, Show } from 'solid-js';

/** What is wrong with one field, in the words of the check, beside it. */
export function FieldFaults(props: { messages: readonly string[] }) {
  return (
    <Show when={props.messages.length > 0}>
      <ul class="field-faults small" role="status">
        <For each={props.messages}>{(message) => <li>{message}</li>}</For>
      </ul>
    </Show>
  );
}
