import { For, Show, createSignal } from 'solid-js';
import { canShare, copyText, download, shareFile, type Sent } from '../../device/share.ts';
import { Group } from '../../parts/Choice.tsx';
import { Touch } from '../../parts/Touch.tsx';
import type { CaseRecord } from '../../record/model.ts';
import type { Printed } from './printed.ts';
import { useApp } from '../app.ts';
import { CaseContent } from '../department/CaseContent.tsx';
import { fileOf, outputKinds, type OutputKind } from './outputs.ts';
import { failureWords } from '../failure-words.ts';

export interface HandOverProps {
  record: CaseRecord;
  onPrint: (page: Printed) => void;
}

/** The ways out of the device. Each says in words what became of it. */
export function HandOver(props: HandOverProps) {
  const app = useApp();
  const { w } = app;
  const [told, setTold] = createSignal('');
  const file = (kind: OutputKind) => {
    const open = app.open();
    return open ? fileOf(kind, open, props.record) : null;
  };
  const say = (done: string, sent: Sent) =>
    setTold(sent.ok ? done : w('record.not-sent', { why: failureWords(w, sent.reason) }));
  const copy = async (kind: OutputKind) => {
    const one = file(kind);
    if (one) say(w('record.copied', { what: w(`record.output.${kind}`) }), await copyText(one.content));
  };
  const save = (kind: OutputKind) => {
    const one = file(kind);
    if (one) say(w('record.handed', { name: one.name }), download(one));
  };
  const share = async (kind: OutputKind) => {
    const one = file(kind);
    if (one) say(w('record.shared', { name: one.name }), await shareFile(one));
  };
  const shares = () => {
    const one = file('text');
    return one !== null && canShare(one);
  };
  return (
    <div class="hand-over">
      <p class="hand-over-told" role="status">
        {told() || w('record.hand-over-help')}
      </p>
      <Group label={w('record.paper')}>
        <Touch onAct={() => props.onPrint('note')}>{w('record.print-note')}</Touch>
        <Touch onAct={() => props.onPrint('patient')}>{w('record.print-patient')}</Touch>
        <Touch onAct={() => props.onPrint('still-in')}>{w('record.print-still-in')}</Touch>
        <Touch onAct={() => props.onPrint('lists')}>{w('record.print-lists')}</Touch>
      </Group>
      <Group label={w('record.clipboard')}>
        <Touch onAct={() => void copy('text')}>{w('record.copy-note')}</Touch>
        <Touch onAct={() => void copy('patient')}>{w('record.copy-patient')}</Touch>
        <Touch onAct={() => void copy('still-in')}>{w('record.copy-still-in')}</Touch>
      </Group>
      <Group label={w('record.files')}>
        <For each={outputKinds}>
          {(kind) => (
            <Touch onAct={() => save(kind)}>
              {w(`record.output.${kind}`)}
              <small>{w(`record.output-help.${kind}`)}</small>
            </Touch>
          )}
        </For>
        <CaseContent meta={app.open()?.meta} onSent={(name, sent) => say(w('record.handed', { name }), sent)} />
      </Group>
      <Show when={shares()}>
        <Group label={w('record.share')}>
          <For each={outputKinds}>
            {(kind) => <Touch onAct={() => void share(kind)}>{w(`record.output.${kind}`)}</Touch>}
          </For>
        </Group>
      </Show>
    </div>
  );
}
