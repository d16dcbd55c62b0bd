import { createSignal } from 'solid-js';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Recorder } from './recorder.ts';

/** H9: washed out, or a word on why not. Either is an answer. */
export function WashSheet(props: { recorder: Recorder; onClose: () => void }) {
  const { w, content } = useApp();
  const [reason, setReason] = createSignal('');
  const lacks = () => (reason().trim() === '' ? w('closing.words-first') : undefined);
  const hold = () => content().holds.find(({ id }) => id === 'shavings');
  const done = async (ok: Promise<boolean>) => {
    if (await ok) props.onClose();
  };
  const without = () =>
    props.recorder.record({
      type: 'hold-answered',
      hold: 'shavings',
      answer: 'go-on',
      reason: reason().trim(),
    });
  return (
    <Sheet title={content().phrases.holds.shavings.label} close={w('closing.back')} onClose={() => props.onClose()}>
      <div class="closing-form">
        <p>{content().phrases.holds.shavings.help}</p>
        <Touch onAct={() => void done(props.recorder.record({ type: 'washed-out' }))}>{w('closing.washed-out')}</Touch>
        <TextEntry
          label={w('closing.not-washed-why')}
          value={reason()}
          rows={1}
          offers={hold()?.reasons.slice(1) ?? []}
          onInput={setReason}
        />
        <Touch onAct={() => void done(without())} closed={lacks()}>
          {w('closing.not-washed')}
        </Touch>
      </div>
    </Sheet>
  );
}
