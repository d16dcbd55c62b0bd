import { For, Show, createUniqueId } from 'solid-js';
import { Touch } from './Touch.tsx';

export interface TextEntryProps {
  label: string;
  value: string;
  rows?: number;
  /** Stands in the box while it is empty; beside offers it says that the box is for other words. */
  hint?: string;
  /** Words that are often meant; a touch puts them in. */
  offers?: readonly string[];
  onInput: (text: string) => void;
}

/** Free words. Offers come first: typing through gloves is the last resort. */
export function TextEntry(props: TextEntryProps) {
  const id = createUniqueId();
  const add = (offer: string) =>
    props.onInput(props.value.trim() === '' ? offer : `${props.value.trimEnd()}; ${offer}`);
  return (
    <div class="text-entry">
      <label class="choice-label" for={id}>
        {props.label}
      </label>
      <Show when={props.offers}>
        {(offers) => (
          <div class="choice-row">
            <For each={offers()}>{(offer) => <Touch onAct={() => add(offer)}>{offer}</Touch>}</For>
          </div>
        )}
      </Show>
      <textarea
        id={id}
        rows={props.rows ?? 2}
        autocomplete="off"
        placeholder={props.hint}
        value={props.value}
        onInput={(event) => props.onInput(event.currentTarget.value)}
      />
    </div>
  );
}
