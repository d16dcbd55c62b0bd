import { Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import type { ToolId } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { millimetres } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { offers } from './offers.ts';
import type { Recorder } from './recorder.ts';

/** A damaged tool: which, how, is a tip missing and how long, is it kept. Sterile services and the count read it. */
export function DamageForm(props: { tool: ToolId | null; recorder: Recorder; onDone: () => void }) {
  const app = useApp();
  const { w } = app;
  const [chosen, setChosen] = createSignal<ToolId | null>(null);
  const [how, setHow] = createSignal('');
  const [tipMissing, setTipMissing] = createSignal<boolean | null>(null);
  const [length, setLength] = createSignal<number | null>(null);
  const [kept, setKept] = createSignal<boolean | null>(null);
  // The form is made anew for each tool.
  // eslint-disable-next-line solid/reactivity
  const [step, setStep] = createSignal<'tool' | 'how' | 'tip' | 'length'>(props.tool === null ? 'tool' : 'how');
  createLayoutGuard(() => `${step()} ${tipMissing()}`);
  const tool = () => props.tool ?? chosen();
  /** Those in the room first, each once. */
  const tools = createMemo(() => {
    const inRoom = new Set((app.open()?.folded.case.context.room.tools ?? []).map((one) => one.tool));
    const all = app.content().tools.map(({ id }) => id);
    return (inRoom.size ? all.filter((id) => inRoom.has(id)) : all).map((value) => ({
      value,
      label: app.content().phrases.tools[value].label,
    }));
  });
  const lacksWords = () => (how().trim() === '' ? w('closing.words-first') : undefined);
  const lacksTip = () => (tipMissing() === null ? w('closing.tip-first') : undefined);
  const record = async () => {
    const which = tool();
    if (which === null) return;
    const done = await props.recorder.record({
      type: 'tool-damaged',
      tool: which,
      how: how().trim(),
      tipMissing: tipMissing() === true,
      ...(tipMissing() === true && length() !== null && { length: length() as number, lengthHow: 'measured' as const }),
      ...(kept() !== null && { kept: kept() === true }),
    });
    if (done) props.onDone();
  };
  const yesNo = () => [
    { value: true, label: w('closing.yes') },
    { value: false, label: w('closing.no') },
  ];
  return (
    <Switch>
      <Match when={step() === 'length'}>
        <NumberPad
          label={w('closing.tip-length')}
          unit="mm"
          value={null}
          min={0.5}
          max={200}
          words={{
            done: w('closing.go-on'),
            back: w('closing.rub-out'),
            unknown: w('closing.not-measured'),
            range: w('closing.tip-range'),
          }}
          onDone={(mm) => {
            setLength(mm);
            setStep('tip');
          }}
        />
      </Match>
      <Match when={step() === 'tool'}>
        <Choice
          label={w('closing.which-tool')}
          options={tools()}
          onChoose={(tool) => {
            setChosen(tool);
            setStep('how');
          }}
        />
      </Match>
      <Match when={step() === 'how'}>
        <div class="closing-form">
          <TextEntry
            label={w('closing.how')}
            value={how()}
            rows={1}
            offers={offers(w, 'closing.offer.how')}
            onInput={setHow}
          />
          <Touch onAct={() => setStep('tip')} closed={lacksWords()}>
            {w('closing.go-on')}
          </Touch>
        </div>
      </Match>
      <Match when={step() === 'tip'}>
        <div class="closing-form">
          <div class="closing-pair">
            <Choice label={w('closing.tip-missing')} options={yesNo()} value={tipMissing()} onChoose={setTipMissing} />
            <Choice label={w('closing.kept')} options={yesNo()} value={kept()} onChoose={setKept} />
          </div>
          <div class="choice-row">
            <Show when={tipMissing() === true}>
              <Touch onAct={() => setStep('length')}>
                {w('closing.measure-tip')}
                <small>{millimetres(length(), w('closing.length-unknown'))}</small>
              </Touch>
            </Show>
            <Touch onAct={() => void record()} closed={lacksTip()}>
              {w('closing.record')}
            </Touch>
          </div>
        </div>
      </Match>
    </Switch>
  );
}
