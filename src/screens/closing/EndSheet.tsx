import { For, Show } from 'solid-js';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Recorder } from './recorder.ts';
import type { Standing } from './standing.ts';
import { Twice } from './Twice.tsx';

export interface EndSheetProps {
  standing: Standing;
  recorder: Recorder;
  /** To the lines for the time after. */
  onAftercare: () => void;
  onClose: () => void;
}

/** The end of the work, then the end of the case. Both are asked twice; what stands open is named first. */
export function EndSheet(props: EndSheetProps) {
  const app = useApp();
  const { w } = app;
  const end = async () => {
    if (await props.recorder.record({ type: 'work-ended' })) props.onClose();
  };
  const close = async () => {
    if (await props.recorder.record({ type: 'case-closed' })) app.go('record');
  };
  const before = () => {
    const { first } = props.standing;
    return first === null ? undefined : w(`closing.first.${first}`);
  };
  return (
    <Sheet
      title={w(props.standing.phase === 'working' ? 'closing.end-work' : 'closing.close-case')}
      close={w('closing.back')}
      onClose={() => props.onClose()}
    >
      <div class="closing-form">
        <ul class="count-open">
          <For each={props.standing.told} fallback={<li>{w('closing.nothing-open')}</li>}>
            {(key) => <li>{w(`closing.open.${key}`)}</li>}
          </For>
        </ul>
        <Show when={props.standing.aftercare}>
          {(lines) => (
            <Touch onAct={() => props.onAftercare()}>
              {w('closing.aftercare')}
              <small>
                {lines().open > 0 ? w('closing.aftercare.open', { lines: lines().open }) : w('closing.aftercare.all')}
              </small>
            </Touch>
          )}
        </Show>
        <Show
          when={props.standing.phase === 'working'}
          fallback={
            <>
              <p>{w('closing.close-help')}</p>
              <Twice
                label={w('closing.close-case')}
                question={w('closing.close-question')}
                yes={w('closing.close-yes')}
                closed={before()}
                onYes={() => void close()}
              />
            </>
          }
        >
          <p>{w('closing.end-help')}</p>
          <Twice
            label={w('closing.end-work')}
            question={w('closing.end-question')}
            yes={w('closing.end-yes')}
            onYes={() => void end()}
          />
        </Show>
      </div>
    </Sheet>
  );
}
