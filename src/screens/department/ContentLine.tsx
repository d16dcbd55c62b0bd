import { For, Show } from 'solid-js';
import { useApp } from '../app.ts';

/** With which content this case is read; and, of a department's own, whose it is and its local policy. */
export function ContentLine(props: { policy?: boolean }) {
  const { w, content } = useApp();
  return (
    <div class="small soft">
      <p>{w('department.content-line', { version: content().version })}</p>
      <Show when={content().department}>
        {(own) => (
          <>
            <p>{w('department.about', { name: own().name, date: own().changedOn, reason: own().reason })}</p>
            <Show when={props.policy}>
              <For each={own().policy}>
                {(text) => <p>{w('department.policy-line', { date: own().changedOn, text })}</p>}
              </For>
            </Show>
          </>
        )}
      </Show>
    </div>
  );
}
