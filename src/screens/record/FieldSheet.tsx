import { Show, createSignal } from 'solid-js';
import type { NoteField } from '../../../content/ids.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { linesIn, type Value } from '../../record/model.ts';
import { useApp } from '../app.ts';
import { offers } from '../closing/offers.ts';
import type { Recorder } from '../closing/recorder.ts';

/** One item of the note: words, or "not applicable". What was written before stays in the record beside it. */
export function FieldSheet(props: { field: NoteField; value: Value; recorder: Recorder; onClose: () => void }) {
  const { w, content } = useApp();
  const [text, setText] = createSignal('');
  const lacks = () => (text().trim() === '' ? w('closing.words-first') : undefined);
  const done = async (ok: Promise<boolean>) => {
    if (await ok) props.onClose();
  };
  return (
    <Sheet title={content().phrases.noteFields[props.field]} close={w('closing.back')} onClose={() => props.onClose()}>
      <div class="closing-form">
        <Show when={props.value.state !== 'not-recorded'}>
          <p>{w('record.so-far', { text: linesIn(content().phrases.language, props.value).join('; ') })}</p>
        </Show>
        <TextEntry
          label={w('record.words')}
          value={text()}
          rows={3}
          offers={offers(w, `record.offer.${props.field}`)}
          onInput={setText}
        />
        <div class="choice-row">
          <Touch
            closed={lacks()}
            onAct={() =>
              void done(props.recorder.record({ type: 'note-field', field: props.field, text: text().trim() }))
            }
          >
            {w('closing.record')}
          </Touch>
          <Touch
            onAct={() =>
              void done(props.recorder.record({ type: 'note-field', field: props.field, notApplicable: true }))
            }
          >
            {w('record.not-applicable')}
          </Touch>
        </div>
      </div>
    </Sheet>
  );
}
