import { For, createMemo } from 'solid-js';
import type { Outcome } from '../../../content/ids.ts';
import { MoveCard } from '../../parts/MoveCard.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { capital } from '../../format/prose.ts';
import { Drawn } from './Drawn.tsx';
import type { MoveEnd, Table } from './state.ts';
import { useApp } from '../app.ts';

/** One answer to "what happened?": `shank-broke` is two, and a tool may come out jammed in the screw. */
export interface Answer {
  label: string;
  /** How it is drawn. */
  drawing: string;
  end: MoveEnd;
}

/** Moves after which the tool can be stuck in the screw it brought out. */
const gripsFromInside = ['conical-extractor', 'reverse-tap', 'extraction-sleeve'];

/** Every answer that can have happened to the running move, the likeliest first. */
export function answersFor(table: Table): Answer[] {
  const running = table.running()?.move;
  const { ids, phrases } = table.app.content();
  if (!running) return [];
  const move = table.moveOf(running);
  const headGone = ['head-sheared', 'fragment-retained'].includes(table.screw()?.stage ?? '');
  const possible = (outcome: Outcome) => !(headGone && outcome === 'head-sheared');
  const ordered = [...new Set([...move.likely, ...ids.outcomes])].filter(possible);
  return ordered.flatMap((outcome): Answer[] => {
    const label = phrases.outcomes[outcome].label;
    if (outcome === 'shank-broke')
      return [
        { label: phrases.shankBroke.reachable, drawing: 'near-piece', end: { outcome, reachable: true } },
        { label: phrases.shankBroke.notReachable, drawing: 'far-piece', end: { outcome, reachable: false } },
      ];
    if (outcome === 'out' && gripsFromInside.includes(running))
      return [
        { label, drawing: outcome, end: { outcome } },
        { label: table.app.w('outcome.out-jammed'), drawing: 'out-jammed', end: { outcome, toolJammed: true } },
      ];
    return [{ label, drawing: outcome, end: { outcome } }];
  });
}

export function Outcomes(props: { table: Table; all: boolean }) {
  const app = useApp();
  const answers = createMemo(() => answersFor(props.table));
  const shown = createMemo(() => (props.all ? answers().slice(3) : answers().slice(0, 3)));
  const words = { becomes: '', have: '', lacks: '' };
  createLayoutGuard(() => `${props.all} ${props.table.running()?.entry}`);
  return (
    <div class="cards outcomes" classList={{ 'outcomes-all': props.all }}>
      <For each={shown()}>
        {(answer, i) => (
          <MoveCard
            number={(props.all ? 4 : 1) + i()}
            title={capital(answer.label)}
            drawing={<Drawn table={props.table} outcome={answer.drawing} />}
            words={words}
            onAct={() => void props.table.end(answer.end)}
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
