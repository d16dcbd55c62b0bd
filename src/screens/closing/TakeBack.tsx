import { Show } from 'solid-js';
import { epoch } from '../../../machines/time.ts';
import { Touch } from '../../parts/Touch.tsx';
import { takeBackMs, useApp } from '../app.ts';
import type { Recorder } from './recorder.ts';

/** Takes the last entry back. Its place stays when the time is over. */
export function TakeBack(props: { recorder: Recorder }) {
  const app = useApp();
  const last = () => app.open()?.entries.at(-1);
  const fresh = () => {
    const entry = last();
    return entry &&
      entry.type !== 'struck' &&
      app.view()?.phase !== 'closed' &&
      app.tick() - epoch(entry.logged) < takeBackMs
      ? entry
      : undefined;
  };
  return (
    <span class="closing-take-back">
      <Show when={fresh()}>
        {(entry) => (
          <Touch
            onAct={() => {
              const reason = app.w('closing.taken-back');
              void props.recorder.record({ type: 'struck', entry: entry().n, reason });
            }}
          >
            {app.w('closing.take-back')}
          </Touch>
        )}
      </Show>
    </span>
  );
}
