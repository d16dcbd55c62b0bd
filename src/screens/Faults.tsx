import { For, Show } from 'solid-js';
import type { Fault } from '../../machines/entry.ts';
import { useApp } from './app.ts';
import { faultWords } from './failure-words.ts';

const shown = 50;

/** Faults, each with its path; beyond fifty only their number. */
export function FaultList(props: { faults: readonly Fault[] }) {
  const { w } = useApp();
  return (
    <>
      <ul class="faults small">
        <For each={props.faults.slice(0, shown)}>
          {(fault) => (
            <li>
              <code>{fault.path}</code>: {faultWords(w, fault)}
            </li>
          )}
        </For>
      </ul>
      <Show when={props.faults.length > shown}>
        <p class="small">{w('cases.more-faults', { count: props.faults.length - shown })}</p>
      </Show>
    </>
  );
}

/** Why a file was refused; empty while none was. */
export function Faults(props: { faults: readonly Fault[] }) {
  const { w } = useApp();
  return (
    <Show when={props.faults.length > 0}>
      <div role="status">
        <b>{w('plan.refused', { count: props.faults.length })}</b>
        <FaultList faults={props.faults} />
      </div>
    </Show>
  );
}
