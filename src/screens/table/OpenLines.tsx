import { For, Show } from 'solid-js';
import type { Line } from './between.ts';

/** What stands open, a row each: what it is, and what else is known of it. */
export const OpenLines = (props: { lines: readonly Line[] }) => (
  <For each={props.lines}>
    {(line) => (
      <li>
        <b>{line.text}</b>
        <Show when={line.aside}>
          <span>{line.aside}</span>
        </Show>
      </li>
    )}
  </For>
);
