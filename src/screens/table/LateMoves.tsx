import { For, Show, createMemo } from 'solid-js';
import type { MoveId, ToolId } from '../../../content/ids.ts';
import type { Content } from '../../../content/types.ts';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { MoveCard } from '../../parts/MoveCard.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { capital } from '../../format/prose.ts';
import { useApp } from '../app.ts';
import type { Table } from './state.ts';

/** Moves on one page of what can be told late. */
const atOnce = 6;

const lateMoves = (content: Content): MoveId[] =>
  content.moves.flatMap(({ id }) => (id === 'leave-in' ? [] : [id as MoveId]));

/** Pages of all moves. */
export const latePages = (content: Content): number => Math.ceil(lateMoves(content).length / atOnce);

const words = { becomes: '', have: '', lacks: '' };

/** While something earlier is told: a band over the full width, with its way back to now. */
export function LateBand(props: { table: Table }) {
  const { w } = useApp();
  createLayoutGuard(() => String(props.table.isLate()));
  return (
    <Show when={props.table.isLate()}>
      <div class="late-band">
        <Band kind="hold" title={w('when.band', { minutes: props.table.when().minutesAgo ?? 0 })}>
          <Touch onAct={() => props.table.now()}>{w('when.now-again')}</Touch>
        </Band>
      </div>
    </Show>
  );
}

/** Every move of the ladder: what was made then may not be open now. */
export function LateMoves(props: { table: Table; page: number }) {
  const app = useApp();
  const shown = createMemo(() => lateMoves(app.content()).slice(props.page * atOnce, (props.page + 1) * atOnce));
  createLayoutGuard(() => `${props.page} ${props.table.called()}`);
  return (
    <div class="cards outcomes-all">
      <For each={shown()}>
        {(move, i) => (
          <MoveCard
            number={i() + 1}
            title={capital(app.content().phrases.moves[move].glance)}
            words={words}
            onAct={() => void props.table.tell(move)}
          />
        )}
      </For>
    </div>
  );
}

/** Which of several tools that fit: one touch, then the move starts. */
export function ToolCards(props: { table: Table; move: MoveId; tools: readonly ToolId[] }) {
  const app = useApp();
  createLayoutGuard(() => props.move);
  return (
    <div class="cards outcomes-all">
      <For each={props.tools}>
        {(tool, i) => (
          <MoveCard
            number={i() + 1}
            title={capital(app.content().phrases.tools[tool].label)}
            words={words}
            onAct={() => void props.table.start(props.move, tool)}
          />
        )}
      </For>
    </div>
  );
}
