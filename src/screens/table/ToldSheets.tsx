import { For, Show, createMemo, createSignal } from 'solid-js';
import { eventKinds, roles, sides, stopReasons } from '../../../content/ids.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { once } from './once.ts';
import type { Table } from './state.ts';

interface Props {
  table: Table;
}

/** All that was entered since the screw was called belonged to another one: one touch says to which. */
export function WrongSheet(props: Props) {
  const { w, view } = useApp();
  const others = () => Object.keys(view()?.screws ?? {}).filter((id) => id !== props.table.inHand());
  return (
    <Sheet
      title={w('wrong.title', { screw: props.table.inHand() ?? '', count: props.table.sinceCalled().length })}
      close={w('table.back')}
      onClose={() => props.table.home()}
    >
      <div class="choice-row">
        <For each={others()}>
          {(id) => <Touch onAct={() => void props.table.wasOf(id)}>{w('wrong.was', { screw: id })}</Touch>}
        </For>
      </div>
    </Sheet>
  );
}

/** A move that no release lists, in words. */
export function OtherSheet(props: Props) {
  const { w, content } = useApp();
  const [text, setText] = createSignal('');
  return (
    <Sheet title={content().phrases.moves.other.label} close={w('table.back')} onClose={() => props.table.home()}>
      <p>{content().phrases.moves.other.help}</p>
      <TextEntry label={w('other.what')} value={text()} rows={1} onInput={setText} />
      <Touch
        onAct={() => void props.table.tell('other', text().trim())}
        closed={text().trim() === '' ? w('leave.no-words') : undefined}
      >
        {w('other.start')}
      </Touch>
    </Sheet>
  );
}

/** Work was stopped: that stands already; here is why. */
export function StoppedSheet(props: Props) {
  const { w } = useApp();
  return (
    <Sheet title={w('stopped.title')} close={w('table.back')} onClose={() => props.table.home()}>
      <p class="small soft">{w('stopped.help')}</p>
      <div class="choice-row">
        <For each={stopReasons}>
          {(reason) => (
            <Touch onAct={() => void once(props.table, { type: 'stopped', reason })}>
              {w(`stopped.reason.${reason}`)}
            </Touch>
          )}
        </For>
      </div>
    </Sheet>
  );
}

/** Who stands at the tablet from now on: one of those listed, or a role with initials. */
export function HandOverSheet(props: Props) {
  const app = useApp();
  const { w } = app;
  const [who, setWho] = createSignal('');
  const people = createMemo(() => {
    const all = app.open()?.folded.case.context.people ?? [];
    return all.filter((one, i) => all.findIndex(({ who: other }) => other === one.who) === i);
  });
  return (
    <Sheet title={w('more.hand-over')} close={w('table.back')} onClose={() => props.table.home()}>
      <div class="at-the-tablet">
        <For each={people()}>
          {({ role, who: name }) => (
            <Touch onAct={() => void once(props.table, { type: 'at-tablet', role, who: name })}>{name}</Touch>
          )}
        </For>
        <TextEntry label={w('hand-over.initials')} value={who()} rows={1} onInput={setWho} />
      </div>
      <div class="choice-row" role="group" aria-label={w('hand-over.role')}>
        <For each={roles}>
          {(role) => (
            <Touch
              onAct={() =>
                void once(props.table, {
                  ...({ type: 'at-tablet', role } as const),
                  ...(who().trim() !== '' && { who: who().trim() }),
                })
              }
            >
              {w(`hand-over.role.${role}`)}
            </Touch>
          )}
        </For>
      </div>
    </Sheet>
  );
}

/** What happened besides the moves: each one touch. */
export function EventSheet(props: Props) {
  const { w } = useApp();
  return (
    <Sheet title={w('more.event')} close={w('table.back')} onClose={() => props.table.home()}>
      <div class="choice-row">
        <For each={eventKinds.filter((kind) => kind !== 'other')}>
          {(kind) => <Touch onAct={() => void once(props.table, { type: 'event', kind })}>{w(`event.${kind}`)}</Touch>}
        </For>
        <Touch onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'correct' })}>{w('more.correct')}</Touch>
        <Show when={props.table.sinceCalled().length > 0}>
          <Touch onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'wrong' })}>{w('wrong.touch')}</Touch>
        </Show>
      </div>
    </Sheet>
  );
}

/** Side or construct were entered wrong: both stay legible in the record. */
export function CorrectSheet(props: Props) {
  const app = useApp();
  const { w } = app;
  const [side, setSide] = createSignal<(typeof sides)[number] | null>(null);
  createLayoutGuard(side);
  const now = () => app.open()?.folded.case.context.room.opened?.side ?? null;
  const correct = async (reason: string) => {
    const to = side();
    if (to !== null) await once(props.table, { type: 'case-corrected', side: to, reason });
  };
  return (
    <Sheet title={w('more.correct')} close={w('table.back')} onClose={() => props.table.home()}>
      <Choice
        label={w('correct.side')}
        options={sides.map((value) => ({
          value,
          label: w(`side.${value}`),
          closed: value === now() ? w('correct.stands') : undefined,
        }))}
        value={side()}
        onChoose={setSide}
      />
      <Show when={side()}>
        <div class="choice-row" role="group" aria-label={w('correct.why')}>
          <For each={['tablet', 'plan', 'misheard'] as const}>
            {(reason) => (
              <Touch consequential onAct={() => void correct(w(`correct.reason.${reason}`))}>
                {w(`correct.reason.${reason}`)}
              </Touch>
            )}
          </For>
        </div>
      </Show>
    </Sheet>
  );
}
