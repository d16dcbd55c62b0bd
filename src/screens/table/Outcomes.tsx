import { For, createMemo } from 'solid-js';
import type { Outcome, Stage } from '../../../content/ids.ts';
import { MoveCard } from '../../parts/MoveCard.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { capital } from '../../format/prose.ts';
import { Drawn } from './Drawn.tsx';
import { lateMoves, movesAtOnce } from './late-moves.ts';
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

/** Answers that have a place of their own; one more place leads to the others. */
const likeliest = 3;

/** Place of one of a list on its page of so many; null for what is not on it. */
const placeOn = (list: readonly string[], one: string | undefined, atOnce: number): number | null => {
  const at = list.findIndex((other) => other === one);
  return at < 0 ? null : at % atOnce;
};

/**
 * Where the card was that began the running move, or that named its tool, counted from 0 on its page: what a second tap
 * on the same place, or the same number said again, would hit. Null where nothing tells.
 */
export function touchedPlace(table: Table): number | null {
  const running = table.running();
  if (!running) return null;
  const { move, tool } = running;
  const tools = tool === undefined || move === 'other' ? [] : table.fittingTools(move);
  if (tools.length > 1) return placeOn(tools, tool, tools.length);
  if (table.isLate()) return placeOn(lateMoves(table.app.content()), move, movesAtOnce);
  return placeOn(
    table.moves().map(({ offered }) => offered.move),
    move,
    table.cardsAtOnce(),
  );
}

/** Does an answer end the screw, or is it in a deeper stage by it? */
const isGrave = ({ end: { outcome } }: Answer, stage: Stage | undefined): boolean =>
  ['out', 'head-sheared', 'shank-broke'].includes(outcome) || (outcome === 'slipped' && stage === 'seated');

/**
 * Answers in an order in which the place of the card just touched holds none that ends the screw or lowers its stage; the
 * others stay in their order, the likeliest first.
 *
 * @param place counted from 0; null leaves them as they are
 * @example guarded([out, slipped, unchanged], 0, 'seated') // [unchanged, out, slipped]
 */
export function guarded(answers: readonly Answer[], place: number | null, stage: Stage | undefined): Answer[] {
  const there = place === null || place >= likeliest ? undefined : answers[place];
  if (place === null || !there || !isGrave(there, stage)) return [...answers];
  const mild = answers.find((answer) => !isGrave(answer, stage));
  if (!mild) return [...answers];
  const others = answers.filter((answer) => answer !== mild);
  return [...others.slice(0, place), mild, ...others.slice(place)];
}

/** Every answer that can have happened to the running move, the likeliest first, but where the touched card was. */
export function answersFor(table: Table): Answer[] {
  return guarded(answersInOrder(table), touchedPlace(table), table.screw()?.stage);
}

function answersInOrder(table: Table): Answer[] {
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
  const shown = createMemo(() => (props.all ? answers().slice(likeliest) : answers().slice(0, likeliest)));
  const words = { becomes: '', have: '', lacks: '' };
  createLayoutGuard(() => `${props.all} ${props.table.running()?.entry}`);
  return (
    <div class="cards outcomes" classList={{ 'outcomes-all': props.all }}>
      <For each={shown()}>
        {(answer, i) => (
          <MoveCard
            number={(props.all ? likeliest + 1 : 1) + i()}
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
