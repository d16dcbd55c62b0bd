import { For, Match, Show, Switch, createSignal } from 'solid-js';
import type { PartAccount } from '../../../machines/compute/parts.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { Choice, Group } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Recorder } from './recorder.ts';

const ends = ['out', 'left-in', 'not-found'] as const;
type End = (typeof ends)[number];

/** Most pieces that one part can be said to be in. */
const mostPieces = 12;

/** Where a plate, a nail or any other part is: all of it by one touch, or piece by piece. */
export function PartForm(props: { part: PartAccount; recorder: Recorder; onDone: () => void }) {
  const app = useApp();
  const { w } = app;
  const [step, setStep] = createSignal<'whole' | 'count' | 'pieces'>('whole');
  const [image, setImage] = createSignal<boolean | null>(null);
  createLayoutGuard(step);
  const told = () => app.open()?.folded.case.context.parts.get(props.part.id)?.ends ?? [];
  const seen = () => (image() === null ? {} : { imageTaken: image() === true });
  const say = (end: End, more: Partial<Extract<EntryDraft, { type: 'part-ended' }>>) =>
    props.recorder.record({ type: 'part-ended', part: props.part.id, end, ...seen(), ...more });
  const all = async (end: End) => {
    if (await say(end, end === 'not-found' ? {} : { complete: true })) props.onDone();
  };
  const pieces = () => Array.from({ length: props.part.pieces }, (_, i) => i + 1);
  const list = async (count: number | null) => {
    if (count === null) return;
    const { id, kind } = props.part;
    if (await props.recorder.record({ type: 'part-listed', part: id, kind, pieces: count })) setStep('pieces');
  };
  return (
    <div class="closing-form">
      <Switch>
        <Match when={step() === 'whole'}>
          <Choice
            label={w('closing.image')}
            options={[
              { value: true, label: w('closing.image-yes') },
              { value: false, label: w('closing.image-no') },
            ]}
            value={image()}
            onChoose={setImage}
          />
          <Group label={w('closing.part-all')}>
            <For each={ends}>
              {(end) => (
                <Touch consequential={end !== 'out'} onAct={() => void all(end)}>
                  {w(`closing.part-end.${end}`)}
                </Touch>
              )}
            </For>
          </Group>
          <Touch onAct={() => setStep(props.part.pieces > 1 ? 'pieces' : 'count')}>{w('closing.part-in-pieces')}</Touch>
        </Match>
        <Match when={step() === 'count'}>
          <NumberPad
            label={w('closing.part-pieces')}
            unit={w('closing.pieces-unit')}
            value={null}
            decimals={0}
            min={2}
            max={mostPieces}
            words={{ done: w('closing.record'), back: w('closing.rub-out'), range: w('closing.pieces-range') }}
            onDone={(count) => void list(count)}
          />
        </Match>
        <Match when={true}>
          <For each={pieces()}>
            {(piece) => (
              <Choice
                label={w('closing.part-piece', { piece })}
                options={ends.map((value) => ({ value, label: w(`closing.part-end.${value}`) }))}
                value={told().find((one) => one.piece === piece)?.end ?? null}
                onChoose={(end) => void say(end, { piece })}
              />
            )}
          </For>
          <Show when={told().length >= props.part.pieces}>
            <Touch onAct={() => props.onDone()}>{w('closing.part-done')}</Touch>
          </Show>
        </Match>
      </Switch>
    </div>
  );
}
