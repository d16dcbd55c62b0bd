import { For, Show } from 'solid-js';
import type { Answer, HoldId } from '../../../content/ids.ts';
import { tipsToFind } from '../../../machines/ladder/standing.ts';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { waitingWords } from './marks.ts';
import type { Table } from './state.ts';

/** What gives pause, one at a time and the rest in a line: a changed case, a tip to find, a part that may still be fixed. */
export function PauseRow(props: { table: Table; hold: HoldId }) {
  const app = useApp();
  const { w, content, open } = app;
  const tip = () => {
    const folded = open()?.folded;
    return props.hold === 'find-tip' && folded ? (tipsToFind(folded)[0] ?? null) : null;
  };
  createLayoutGuard(() => `${props.hold} ${tip()?.entry}`);
  const title = () => {
    const { label } = content().phrases.holds[props.hold];
    const one = tip();
    return one && !one.guessed ? w('pause.tip', { label, tool: content().phrases.tools[one.tool].label }) : label;
  };
  const rest = () => waitingWords(app, props.table.queue().slice(1));
  const answers = () => content().holds.find(({ id }) => id === props.hold)?.answers ?? [];
  /** The touch that leads to what is asked, instead of answering at once. */
  const asks = (answer: Answer) =>
    props.hold === 'still-fixed' ? answer !== 'stop' : props.hold === 'stop-and-think' && answer === 'go-on';
  const label = (answer: Answer) =>
    w(props.hold === 'still-fixed' && answer === 'confirmed' ? 'pause.count' : `answer.${answer}`);
  const give = (answer: Answer) => {
    if (asks(answer)) return props.table.setPanel({ kind: 'sheet', sheet: 'holds' });
    const one = tip();
    if (!one) return void props.table.answer(props.hold, answer);
    return void props.table.record({
      ...({ type: 'hold-answered', hold: 'find-tip', answer, tip: one.entry } as const),
      ...(!one.guessed && { tool: one.tool }),
    });
  };
  return (
    <div class="hold-row ask-row">
      <Band kind="hold" title={title()} text={rest()}>
        <For each={answers()}>{(answer) => <Touch onAct={() => give(answer)}>{label(answer)}</Touch>}</For>
        <Show when={tip()?.presumed && !tip()?.guessed ? tip() : null}>
          {(one) => (
            <Touch
              onAct={() =>
                void props.table.record({
                  ...({
                    type: 'tool-damaged',
                    tool: one().tool,
                    how: w('tool.how.broken'),
                    tipMissing: false,
                  } as const),
                })
              }
            >
              {w('ask.tip.whole')}
            </Touch>
          )}
        </Show>
      </Band>
    </div>
  );
}
