import { For, Show, createSignal } from 'solid-js';
import { Choice } from '../../parts/Choice.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import { disagreement, disagreements } from './disagree.ts';
import type { StepProps } from './step.ts';

export interface DisagreeProps {
  put: StepProps['put'];
  /** The screw it is about at first; null for the metal as a whole. */
  screw: string | null;
  onClose: () => void;
}

/** What the old record says, and what the films show instead: per screw, or of the metal as a whole. */
export function Disagree(props: DisagreeProps) {
  const app = useApp();
  const { w } = app;
  // Read once for the initial choice; afterwards the user sets it.
  // eslint-disable-next-line solid/reactivity
  const [screw, setScrew] = createSignal<string | null>(props.screw);
  const [record, setRecord] = createSignal('');
  const [films, setFilms] = createSignal('');
  const told = () => {
    const open = app.open();
    return open ? disagreements(open, w) : [];
  };
  createLayoutGuard(() => told().length);
  const kinds = () => [w('plan.offer.locking'), w('plan.offer.not-locking'), w('plan.offer.none')];
  const number = () => (screw() === null ? [w('plan.offer.number')] : []);
  const ofRecord = () => [w('plan.offer.listed'), ...number(), ...kinds()];
  const ofFilms = () => [
    ...number(),
    ...(screw() === null ? [] : [w('plan.offer.longer'), w('plan.offer.shorter'), w('plan.offer.broken')]),
    ...kinds(),
  ];
  const why = () => (record().trim() && films().trim() ? undefined : w('plan.both-sides'));
  const enter = async () => {
    const said = { screw: screw(), record: record().trim(), films: films().trim() };
    if (!(await props.put(disagreement(w, said)))) return;
    setRecord('');
    setFilms('');
  };
  return (
    <Sheet title={w('plan.disagree')} close={w('plan.back')} onClose={() => props.onClose()}>
      <div class="question">
        <Show when={told().length > 0}>
          <ul>
            <For each={told()}>{(line) => <li>{line}</li>}</For>
          </ul>
        </Show>
        <Choice
          label={w('plan.disagree-of')}
          options={[
            { value: '', label: w('plan.whole-metal') },
            ...[...(app.open()?.folded.screws.keys() ?? [])].map((id) => ({ value: id, label: id })),
          ]}
          value={screw() ?? ''}
          onChoose={(id) => setScrew(id === '' ? null : id)}
        />
        <TextEntry label={w('plan.record-says')} value={record()} rows={1} offers={ofRecord()} onInput={setRecord} />
        <TextEntry label={w('plan.films-show')} value={films()} rows={1} offers={ofFilms()} onInput={setFilms} />
        <div class="choice-row">
          <Touch onAct={() => void enter()} closed={why()}>
            {w('plan.enter')}
          </Touch>
        </div>
      </div>
    </Sheet>
  );
}
