import { createSignal } from 'solid-js';
import { copyText } from '../../device/share.ts';
import { Touch } from '../../parts/Touch.tsx';
import type { CaseRecord } from '../../record/model.ts';
import { useApp } from '../app.ts';
import { failureWords } from '../failure-words.ts';

/** The sentences on what was done to the clipboard, as text alone; says when the browser refuses. */
export function CopyDone(props: { record: CaseRecord }) {
  const { w } = useApp();
  const [told, setTold] = createSignal('');
  const text = () => props.record.facts.done.map((said) => said.text).join(' ');
  const copy = async () => {
    const sent = await copyText(text());
    setTold(
      sent.ok
        ? w('record.copied', { what: w('record.done') })
        : w('record.not-sent', { why: failureWords(w, sent.reason) }),
    );
  };
  return (
    <div class="copy-done">
      <Touch closed={text() === '' ? w('record.nothing-done') : undefined} onAct={() => void copy()}>
        {w('record.copy-done')}
      </Touch>
      <p role="status">{told()}</p>
    </div>
  );
}
