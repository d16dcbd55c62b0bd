import { For, Match, Show, Switch, createMemo, createSignal, untrack } from 'solid-js';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { aftercareRows, type AftercareRow } from './aftercare-lines.ts';
import type { Recorder } from './recorder.ts';

/** Lines for the time after: the surgeon accepts, changes or drops each, and adds own ones. One line at a time. */
export function AftercareSheet(props: { recorder: Recorder; onClose: () => void }) {
  const app = useApp();
  const { w } = app;
  const [shown, setShown] = createSignal<AftercareRow | 'own' | null>(null);
  createLayoutGuard(shown);
  const rows = createMemo(() => {
    const open = app.open();
    return open ? aftercareRows(open.folded) : [];
  });
  const one = () => {
    const now = shown();
    return now === 'own' ? null : now;
  };
  return (
    <Sheet
      title={w('closing.aftercare')}
      close={w(shown() === null ? 'closing.back' : 'closing.aftercare.lines')}
      onClose={() => (shown() === null ? props.onClose() : setShown(null))}
    >
      <Switch>
        <Match when={one()}>
          {(row) => <LineForm row={row()} recorder={props.recorder} onDone={() => setShown(null)} />}
        </Match>
        <Match when={shown() === 'own'}>
          <OwnForm recorder={props.recorder} onDone={() => setShown(null)} />
        </Match>
        <Match when={shown() === null}>
          <p class="small soft">{w('closing.aftercare-help')}</p>
          <div class="aftercare-lines">
            <For each={rows()}>
              {(row) => (
                <Touch onAct={() => setShown(row)}>
                  {row.text}
                  <small>{w(`closing.aftercare.${row.state ?? 'none'}`)}</small>
                </Touch>
              )}
            </For>
            <Touch onAct={() => setShown('own')}>{w('closing.aftercare.own')}</Touch>
          </div>
        </Match>
      </Switch>
    </Sheet>
  );
}

/** One line: its words and its source, and what the surgeon says to it. */
function LineForm(props: { row: AftercareRow; recorder: Recorder; onDone: () => void }) {
  const app = useApp();
  const { w } = app;
  const [text, setText] = createSignal(untrack(() => props.row.text));
  const cite = () => app.content().sources.find(({ id }) => id === props.row.source)?.cite;
  const say = async (state: 'accepted' | 'dropped') => {
    const { line, text: own } = props.row;
    const what = line === null ? { text: own } : { line };
    if (await props.recorder.record({ type: 'aftercare', ...what, state, calledBy: 'surgeon' })) props.onDone();
  };
  const change = async () => {
    const { line, text: own } = props.row;
    // A line in own words is known by what it says: the old one goes, and the new one stands for itself.
    if (line === null) {
      if (!(await props.recorder.record({ type: 'aftercare', text: own, state: 'dropped', calledBy: 'surgeon' })))
        return;
    }
    const what = line === null ? {} : { line };
    const changed = { type: 'aftercare', ...what, text: text().trim(), state: 'changed', calledBy: 'surgeon' } as const;
    if (await props.recorder.record(changed)) props.onDone();
  };
  const lacks = () => {
    const now = text().trim();
    if (now === '') return w('closing.words-first');
    return now === props.row.text ? w('closing.aftercare.same') : undefined;
  };
  return (
    <div class="closing-form">
      <p>{props.row.text}</p>
      <Show when={cite()}>{(where) => <p class="small soft">{where()}</p>}</Show>
      <Touch onAct={() => void say('accepted')} pressed={props.row.state === 'accepted'}>
        {w('closing.aftercare.accept')}
      </Touch>
      <Touch onAct={() => void say('dropped')} pressed={props.row.state === 'dropped'}>
        {w('closing.aftercare.drop')}
      </Touch>
      <TextEntry label={w('closing.aftercare.change')} value={text()} onInput={setText} />
      <Touch onAct={() => void change()} closed={lacks()}>
        {w('closing.aftercare.record-changed')}
      </Touch>
    </div>
  );
}

function OwnForm(props: { recorder: Recorder; onDone: () => void }) {
  const { w } = useApp();
  const [text, setText] = createSignal('');
  const add = async () => {
    const own = { type: 'aftercare', text: text().trim(), state: 'accepted', calledBy: 'surgeon' } as const;
    if (await props.recorder.record(own)) props.onDone();
  };
  return (
    <div class="closing-form">
      <TextEntry label={w('closing.aftercare.own')} value={text()} onInput={setText} />
      <Touch onAct={() => void add()} closed={text().trim() === '' ? w('closing.words-first') : undefined}>
        {w('closing.aftercare.own-add')}
      </Touch>
    </div>
  );
}
