import { Match, Switch, createSignal } from 'solid-js';
import { Choice } from '../../parts/Choice.tsx';
import { millimetres } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { AccountRow } from './account.ts';
import { offers, oneValue } from './offers.ts';
import type { Recorder } from './recorder.ts';

export interface LeaveFormProps {
  row: AccountRow;
  recorder: Recorder;
  onDone: () => void;
}

/** Left in on purpose: how long, where, why, image, who decided, who was told. One question at a time. */
export function LeaveForm(props: LeaveFormProps) {
  const app = useApp();
  const { w } = app;
  const [step, setStep] = createSignal<'length' | 'where' | 'why' | 'who' | 'told'>('length');
  const [length, setLength] = createSignal<number | null>(null);
  /** The length was read from an image, not measured. */
  const [fromImage, setFromImage] = createSignal(false);
  const [where, setWhere] = createSignal('');
  const [reason, setReason] = createSignal('');
  const [image, setImage] = createSignal<boolean | null>(null);
  const [decidedBy, setDecidedBy] = createSignal('');
  const [toldTo, setToldTo] = createSignal('');
  createLayoutGuard(step);
  const deciders = () => [
    ...offers(w, 'closing.offer.decided-by'),
    ...(app.open()?.folded.case.context.people ?? []).map(({ who }) => who),
  ];
  const record = async () => {
    const done = await props.recorder.record({
      type: 'left-in',
      ...props.row.names,
      length: length(),
      // What stays in the bone was read from an image, or reckoned: nobody laid a rule to it.
      ...(length() !== null && { lengthHow: fromImage() ? ('image' as const) : ('difference' as const) }),
      where: where().trim(),
      reason: reason().trim(),
      ...(image() !== null && { imageTaken: image() === true }),
      ...(decidedBy().trim() !== '' && { decidedBy: decidedBy().trim() }),
      ...(toldTo().trim() !== '' && { toldTo: toldTo().trim() }),
    });
    if (done) props.onDone();
  };
  const missing = (text: string) => (text.trim() === '' ? w('closing.words-first') : undefined);
  return (
    <div class="leave-form">
      <Switch>
        <Match when={step() === 'length'}>
          <Touch pressed={fromImage()} onAct={() => setFromImage(!fromImage())}>
            {w('closing.from-image')}
          </Touch>
          <NumberPad
            label={w('closing.left-length', {
              missing: millimetres(props.row.metal.unaccounted, w('closing.length-unknown')),
            })}
            unit="mm"
            value={null}
            min={0.5}
            max={400}
            words={{
              done: w('closing.go-on'),
              back: w('closing.rub-out'),
              unknown: w('closing.not-measured'),
              range: w('closing.piece-range'),
            }}
            onDone={(mm) => {
              setLength(mm);
              setStep('where');
            }}
          />
        </Match>
        <Match when={step() === 'where'}>
          <TextEntry
            label={w('closing.where')}
            value={where()}
            offers={offers(w, 'closing.offer.where')}
            onInput={setWhere}
          />
          <Touch onAct={() => setStep('why')} closed={missing(where())}>
            {w('closing.go-on')}
          </Touch>
        </Match>
        <Match when={step() === 'why'}>
          <TextEntry
            label={w('closing.why')}
            value={reason()}
            offers={offers(w, 'closing.offer.why')}
            onInput={setReason}
          />
          <Touch onAct={() => setStep('who')} closed={missing(reason())}>
            {w('closing.go-on')}
          </Touch>
        </Match>
        <Match when={step() === 'who'}>
          <Choice
            label={w('closing.image')}
            options={[
              { value: true, label: w('closing.image-yes') },
              { value: false, label: w('closing.image-no') },
            ]}
            value={image()}
            onChoose={setImage}
          />
          <TextEntry
            label={w('closing.decided-by')}
            value={decidedBy()}
            rows={1}
            offers={deciders()}
            onInput={(text) => setDecidedBy(oneValue(text, deciders()))}
          />
          <Touch onAct={() => setStep('told')}>{w('closing.go-on')}</Touch>
        </Match>
        <Match when={step() === 'told'}>
          <TextEntry
            label={w('closing.told-to')}
            value={toldTo()}
            rows={1}
            offers={offers(w, 'closing.offer.told-to')}
            onInput={setToldTo}
          />
          <Touch consequential onAct={() => void record()}>
            {w('closing.record-left')}
          </Touch>
        </Match>
      </Switch>
    </div>
  );
}
