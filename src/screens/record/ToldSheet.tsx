import { For, createSignal } from 'solid-js';
import { toldPoints } from '../../../content/ids.ts';
import { Choice, Group } from '../../parts/Choice.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { oneValue } from '../closing/offers.ts';
import type { Recorder } from '../closing/recorder.ts';

type Point = (typeof toldPoints)[number];
type State = 'told' | 'to-be-told';

/** Was the patient told what stayed in, by whom, and of which points; or who will. */
export function ToldSheet(props: { recorder: Recorder; onClose: () => void }) {
  const app = useApp();
  const { w } = app;
  const [state, setState] = createSignal<State | null>(null);
  const [by, setBy] = createSignal('');
  const [points, setPoints] = createSignal<readonly Point[]>([]);
  const people = () => [
    ...(app.open()?.folded.case.context.people ?? []).map(({ who }) => who),
    w('record.operating-surgeon'),
  ];
  const toggle = (point: Point) =>
    setPoints((all) => (all.includes(point) ? all.filter((one) => one !== point) : [...all, point]));
  const lacks = () =>
    state() === null ? w('record.told-first') : by().trim() === '' ? w('record.by-first') : undefined;
  const record = async () => {
    const chosen = state();
    if (chosen === null) return;
    const ordered = toldPoints.filter((point) => points().includes(point));
    if (await props.recorder.record({ type: 'patient-told', state: chosen, by: by().trim(), points: ordered }))
      props.onClose();
  };
  return (
    <Sheet title={w('record.told')} close={w('closing.back')} onClose={() => props.onClose()}>
      <div class="closing-form">
        <Choice
          label={w('record.told-state')}
          options={[
            { value: 'told', label: w('record.told-yes') },
            { value: 'to-be-told', label: w('record.told-later') },
          ]}
          value={state()}
          onChoose={setState}
        />
        <Group label={w('record.told-points')}>
          <For each={toldPoints}>
            {(point) => (
              <Touch onAct={() => toggle(point)} pressed={points().includes(point)}>
                {w(`record.point.${point}`)}
              </Touch>
            )}
          </For>
        </Group>
        <TextEntry
          label={w('record.told-by')}
          value={by()}
          rows={1}
          offers={people()}
          onInput={(text) => setBy(oneValue(text, people()))}
        />
        <Touch closed={lacks()} onAct={() => void record()}>
          {w('closing.record')}
        </Touch>
      </div>
    </Sheet>
  );
}
