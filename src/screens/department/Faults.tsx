import { For, Show } from 'solid-js';

/** What is wrong with one field, in the words of the check, beside it. */
export function FieldFaults(props: { messages: readonly string[] }) {
  return (
    <Show when={props.messages.length > 0}>
      <div class="field-faults small" role="status">
        <For each={props.messages}>{(message) => <p>{message}</p>}</For>
      </div>
    </Show>
  );
}
