import { For, Show } from 'solid-js';
import { department } from '../../session/department.ts';
import { useApp } from '../app.ts';

/** With which content this case is read; and, of a department's own, whose it is and its local policy. */
export function ContentLine(props: { policy?: boolean }) {
  const { w, content } = useApp();
  /** The department's content in use, where this case is read without it. */
  const notUsed = () => {
    const version = department().inUse()?.version;
    const { version: read, department: own } = content();
    return version === undefined || read === version || own?.carriedFrom === version ? undefined : version;
  };
  return (
    <div class="small soft">
      <p>{w('department.content-line', { version: content().version })}</p>
      <Show when={notUsed()}>{(version) => <p>{w('department.not-in-case', { version: version() })}</p>}</Show>
      <Show when={content().department}>
        {(own) => (
          <>
            <Show when={own().carriedFrom}>
              {(version) => <p>{w('department.carried-from', { version: version() })}</p>}
            </Show>
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
