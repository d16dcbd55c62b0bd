import { For } from 'solid-js';
import type { HoldId } from '../../../content/ids.ts';
import { useApp } from '../app.ts';
import { sourceWords } from '../source-words.ts';

/** What these holds rest on, line by line, each with its source and how far that was read; nothing where no line is given. */
export function Evidence(props: { holds: readonly HoldId[] }) {
  const app = useApp();
  const lines = () =>
    app
      .content()
      .holds.flatMap(({ id, evidence }) => ((props.holds as readonly string[]).includes(id) ? evidence : []));
  return (
    <ul class="evidence">
      <For each={lines()}>
        {({ text, source }) => (
          <li>
            <small>
              {text}. <span class="soft">{sourceWords(app, source)}</span>
            </small>
          </li>
        )}
      </For>
    </ul>
  );
}
