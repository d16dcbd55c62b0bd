import { For } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { decidersOf } from './deciders.ts';

/** A touch for each of the people listed who may have decided; touched again, nobody is named. */
export function Deciders(props: { chosen: string | undefined; onChoose: (who: string | undefined) => void }) {
  const app = useApp();
  return (
    <>
      <span class="choice-label">{app.w('leave.decides')}</span>
      <For each={decidersOf(app)}>
        {(who) => (
          <Touch pressed={props.chosen === who} onAct={() => props.onChoose(props.chosen === who ? undefined : who)}>
            {who}
          </Touch>
        )}
      </For>
    </>
  );
}
