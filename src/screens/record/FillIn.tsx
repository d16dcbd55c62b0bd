import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import type { NoteField } from '../../../content/ids.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { linesIn, type CaseRecord, type Value } from '../../record/model.ts';
import { useApp } from '../app.ts';
import type { Recorder } from '../closing/recorder.ts';
import { FieldSheet } from './FieldSheet.tsx';
import { RemarkSheet } from './RemarkSheet.tsx';
import { ToldSheet } from './ToldSheet.tsx';
import { valueOf } from './record-of.ts';

type Doing = 'list' | 'told' | 'remark' | { field: NoteField };

/** Every item of the note with its present text; an item that nobody entered is listed as not recorded. */
export function FillIn(props: { record: CaseRecord; recorder: Recorder }) {
  const { w, content } = useApp();
  const [doing, setDoing] = createSignal<Doing>('list');
  createLayoutGuard(doing);
  const home = () => setDoing('list');
  const signed = () => props.record.facts.status !== 'draft';
  const isSigned = () => (signed() ? w('record.is-signed') : undefined);
  const noteFields = () => content().ids.noteFields;
  const open = createMemo(() => noteFields().filter((field) => valueOf(props.record, field).state === 'not-recorded'));
  const field = () => {
    const now = doing();
    return typeof now === 'object' ? now.field : undefined;
  };
  const told = (): Value =>
    props.record.facts.told.length ? { state: 'recorded', lines: props.record.facts.told } : { state: 'not-recorded' };
  return (
    <Switch>
      <Match when={doing() === 'list'}>
        <p class="record-count">
          {w('record.open-fields', { open: open().length, all: noteFields().length })}
          <Show when={signed()}> {w('record.signed-fields')}</Show>
        </p>
        <div class="fields">
          <Touch size="card" class="field" onAct={() => setDoing('told')}>
            <FieldWords label={w('record.told')} value={told()} />
          </Touch>
          <For each={noteFields()}>
            {(id) => (
              <Touch size="card" class="field" closed={isSigned()} onAct={() => setDoing({ field: id })}>
                <FieldWords label={content().phrases.noteFields[id]} value={valueOf(props.record, id)} />
              </Touch>
            )}
          </For>
          <Touch size="card" class="field" onAct={() => setDoing('remark')}>
            <span>{w(signed() ? 'record.add-signed' : 'record.remark')}</span>
            <small>{w('record.remark-help')}</small>
          </Touch>
        </div>
      </Match>
      <Match when={doing() === 'told'}>
        <ToldSheet recorder={props.recorder} onClose={home} />
      </Match>
      <Match when={doing() === 'remark'}>
        <RemarkSheet signed={signed()} recorder={props.recorder} onClose={home} />
      </Match>
      <Match when={field()}>
        {(id) => (
          <FieldSheet field={id()} value={valueOf(props.record, id())} recorder={props.recorder} onClose={home} />
        )}
      </Match>
    </Switch>
  );
}

function FieldWords(props: { label: string; value: Value }) {
  const { content } = useApp();
  return (
    <>
      <small>{props.label}</small>
      <span class="field-value" data-state={props.value.state}>
        {linesIn(content().phrases.language, props.value).join('; ')}
      </span>
    </>
  );
}
