import { For, createMemo } from 'solid-js';
import type { MoveId, ToolId } from '../../../content/ids.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { MoveCard } from '../../parts/MoveCard.tsx';
import { capital } from '../../format/prose.ts';
import { useApp } from '../app.ts';
import { Drawn } from './Drawn.tsx';
import { lateMoves, movesAtOnce } from './late-moves.ts';
import type { Table } from './state.ts';

const words = { becomes: '', have: '', lacks: '' };

/** Every move of the ladder: what was made then may not be open now. */
export function LateMoves(props: { table: Table; page: number }) {
  const app = useApp();
  const shown = createMemo(() =>
    lateMoves(app.content()).slice(props.page * movesAtOnce, (props.page + 1) * movesAtOnce),
  );
  createLayoutGuard(() => `${props.page} ${props.table.called()}`);
  return (
    <div class="cards outcomes-all late-moves">
      <For each={shown()}>
        {(move, i) => (
          <MoveCard
            number={i() + 1}
            title={capital(app.content().phrases.moves[move].glance)}
            drawing={<Drawn table={props.table} move={move} />}
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
