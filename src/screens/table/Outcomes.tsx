import { For, createMemo } from 'solid-js';
import type { Outcome } from '../../../content/ids.ts';
import { MoveCard } from '../../parts/MoveCard.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { capital } from './Cards.tsx';
import type { Table } from './state.ts';
import { useApp } from '../app.ts';

/** One answer to "what happened?": `shank-broke` is two, and a tool may come out jammed in the screw. */
export interface Answer {
  outcome: Outcome;
  label: string;
  reachable?: boolean;
  toolJammed?: boolean;
}

/** Moves after which the tool can be stuck in the screw it brought out. */
const gripsFromInside = ['conical-extractor', 'reverse-tap', 'extraction-sleeve'];

/** Every answer that can have happened to the running move, the likeliest first. */
export function answersFor(table: Table): Answer[] {
  const running = table.screw()?.move;
  const { phrases } = table.app.content();
  if (!running) return [];
  const move = table.moveOf(running);
  const headGone = ['head-sheared', 'fragment-retained'].includes(table.screw()?.stage ?? '');
  const all: Outcome[] = [
    'out',
    'moving',
    'no-change',
    'slipped',
    'head-sheared',
    'shank-broke',
    'tool-broke',
    'tool-jammed',
    'set-up-done',
  ];
  const likely = move.likely.filter((outcome) => !(headGone && outcome === 'head-sheared'));
  const rest = all.filter((outcome) => !likely.includes(outcome) && !(headGone && outcome === 'head-sheared'));
  return [...likely, ...rest].flatMap((outcome): Answer[] => {
    const label = phrases.outcomes[outcome].label;
    if (outcome === 'shank-broke')
      return [
        { outcome, label: phrases.shankBroke.reachable, reachable: true },
        { outcome, label: phrases.shankBroke.notReachable, reachable: false },
      ];
    if (outcome === 'out' && gripsFromInside.includes(running))
      return [
        { outcome, label },
        { outcome, label: table.app.w('outcome.out-jammed'), toolJammed: true },
      ];
    return [{ outcome, label }];
  });
}

export function Outcomes(props: { table: Table; all: boolean }) {
  const app = useApp();
  const answers = createMemo(() => answersFor(props.table));
  const shown = createMemo(() => (props.all ? answers().slice(3) : answers().slice(0, 3)));
  const words = { becomes: '', have: '', lacks: '' };
  createLayoutGuard(() => `${props.all} ${props.table.screw()?.move}`);
  const give = ({ outcome, reachable, toolJammed }: Answer) =>
    void props.table.end({ outcome, ...(reachable !== undefined && { reachable }), ...(toolJammed && { toolJammed }) });
  return (
    <div class="cards outcomes" classList={{ 'outcomes-all': props.all }}>
      <For each={shown()}>
        {(answer, i) => (
          <MoveCard
            number={(props.all ? 4 : 1) + i()}
            title={capital(answer.label)}
            words={words}
            onAct={() => give(answer)}
          />
        )}
      </For>
      <MoveCard
        number={props.all ? 0 : 4}
        title={app.w(props.all ? 'outcome.likely' : 'outcome.others')}
        words={words}
        onAct={() => props.table.setPanel({ kind: 'outcomes', all: !props.all })}
      />
    </div>
  );
}
