import { For, Show } from 'solid-js';
import type { Answer, HoldId } from '../../../content/ids.ts';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { later } from '../later.tsx';
import { pausing, type Table } from './state.ts';
import { useApp } from '../app.ts';

const PauseRow = later(() => import('./PauseRow.tsx').then((script) => script.PauseRow));

/** Holds that stand in a row above the cards and leave them usable, the first with its answers. */
export function HoldRow(props: { table: Table }) {
  const { w, content } = useApp();
  const standing = () => props.table.standing();
  const now = () => (props.table.row() === 'ask' ? null : (standing()[0] ?? null));
  createLayoutGuard(() => `${props.table.row()} ${props.table.ask()?.key}`);
  /** A question in their place hides no hold: the next touch may be a move past it. */
  const behind = () =>
    standing()
      .map((hold) => content().phrases.holds[hold].label)
      .join(' · ');
  const give = (hold: HoldId, answer: Answer) => {
    if (answer === 'called') return void props.table.callColleague();
    if (answer === 'let-down') return void props.table.record({ type: 'tourniquet', to: 'down' });
    if (answer === 'go-on') return props.table.setPanel({ kind: 'sheet', sheet: 'holds' });
    return void props.table.answer(hold, answer);
  };
  return (
    <Show
      when={now()}
      fallback={
        <>
          <Show when={props.table.row() === 'ask' ? props.table.ask() : null}>
            {(ask) => (
              <div class="hold-row ask-row">
                <Band kind="notice" title={ask().title} text={behind()}>
                  <For each={ask().options}>
                    {(option) => <Touch onAct={() => void option.act(props.table)}>{option.label}</Touch>}
                  </For>
                </Band>
              </div>
            )}
          </Show>
          <Show when={props.table.row() === 'look'}>
            <div class="hold-row">
              <Band kind="notice" title={w('look.title')}>
                <Touch onAct={() => props.table.setPanel({ kind: 'look' })}>{w('look.again')}</Touch>
              </Band>
            </div>
          </Show>
        </>
      }
    >
      {(hold) => (
        <Show when={pausing.every((one) => one !== hold())} fallback={<PauseRow table={props.table} hold={hold()} />}>
          <div class="hold-row" classList={{ 'ask-row': props.table.isSecond() }}>
            <Band
              kind="hold"
              title={content().phrases.holds[hold()].label}
              text={standing().length > 1 ? w('hold.more', { count: standing().length - 1 }) : ''}
            >
              <For each={content().holds.find(({ id }) => id === hold())?.answers ?? []}>
                {(answer) => <Touch onAct={() => give(hold(), answer)}>{w(`answer.${answer}`)}</Touch>}
              </For>
            </Band>
          </div>
        </Show>
      )}
    </Show>
  );
}
