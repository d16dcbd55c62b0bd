import { Show, createSignal } from 'solid-js';
import { Choice } from '../../parts/Choice.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Recorder } from '../closing/recorder.ts';

type Kind = 'addendum' | 'correction';

/** Words of one's own. After signing they are an addendum or a correction, and it has to be said which. */
export function RemarkSheet(props: { signed: boolean; recorder: Recorder; onClose: () => void }) {
  const { w } = useApp();
  const [kind, setKind] = createSignal<Kind | null>(null);
  const [text, setText] = createSignal('');
  const lacks = () =>
    props.signed && kind() === null
      ? w('record.kind-first')
      : text().trim() === ''
        ? w('closing.words-first')
        : undefined;
  const record = async () => {
    const chosen = kind();
    const done = await props.recorder.record({
      type: 'remark',
      text: text().trim(),
      ...(props.signed && chosen !== null && { kind: chosen }),
    });
    if (done) props.onClose();
  };
  return (
    <Sheet
      title={w(props.signed ? 'record.add-signed' : 'record.remark')}
      close={w('closing.back')}
      onClose={() => props.onClose()}
    >
      <div class="closing-form">
        <Show when={props.signed}>
          <Choice
            label={w('record.kind')}
            options={[
              { value: 'addendum', label: w('record.addendum'), note: w('record.addendum-help') },
              { value: 'correction', label: w('record.correction'), note: w('record.correction-help') },
            ]}
            value={kind()}
            onChoose={setKind}
          />
        </Show>
        <TextEntry label={w('record.words')} value={text()} rows={3} onInput={setText} />
        <Touch closed={lacks()} onAct={() => void record()}>
          {w('closing.record')}
        </Touch>
      </div>
    </Sheet>
  );
}
