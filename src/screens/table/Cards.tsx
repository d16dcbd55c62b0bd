import { For, Show, createMemo } from 'solid-js';
import type { App } from '../app.ts';
import { bare, percent } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { MoveCard, type CardFigure } from '../../parts/MoveCard.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { CostGauge } from '../../pictures/CostGauge.tsx';
import { capital } from '../../format/prose.ts';
import type { OfferedMove } from '../../../machines/view.types.ts';
import { deferKey } from '../numbers.ts';
import { countedHere, hereWords } from '../across/here.ts';
import { Drawn } from './Drawn.tsx';
import type { Table } from './state.ts';
import { useApp } from '../app.ts';
import { later } from '../later.tsx';
import './cards.css';

const Closed = later(() => import('./Closed.tsx').then((script) => script.Closed));

/**
 * What an offered move costs in bone, before → after where it changes. Where it does not, a card says so in a word beside
 * its bar, since the same figure on every card tells nothing; on the sheet about the move, `isWhole`, the figure stands.
 */
export function figuresOf(app: App, offered: OfferedMove, isWhole = false): CardFigure[] {
  const { cortexLost, cortexLostBefore, bendingKept } = offered;
  if (cortexLost === null || cortexLostBefore === null)
    return [{ label: app.w('card.lost'), after: app.w('card.unknown-bone') }];
  const changes = cortexLost - cortexLostBefore > 1e-9;
  if (!changes && !isWhole)
    return [{ label: `${app.w('card.lost')} ${percent(cortexLost)},`, after: app.w('card.lost-same') }];
  return [
    {
      label: app.w(changes && !isWhole ? 'card.lost-then' : 'card.lost'),
      after: percent(cortexLost),
      ...(changes && { before: bare(cortexLostBefore) }),
    },
    ...(changes ? [{ label: app.w('card.bends'), after: percent(bendingKept) }] : []),
  ];
}

/** What stands before an offered move, and what is to be known of it, each in a few words. */
export function marksOf({ app, script }: Table, offered: OfferedMove): string[] {
  return [
    ...offered.holds.map((hold) => app.content().phrases.holds[hold].glance),
    ...(offered.shavings ? [app.w('card.shavings')] : []),
    ...offered.assumed.map((what) => app.w(`card.assumed-${what}`)),
    ...(script()?.cardMarks(app, offered) ?? []),
  ];
}

/** The cost of an offered move in cortex as a bar; none where the bone is not known. */
function CostOf(props: { offered: OfferedMove }) {
  const app = useApp();
  const limits = createMemo(
    () => {
      const of = app.open()?.folded.case.context.room.limits;
      return { consider: of?.boneConsider ?? 0, stop: of?.boneStop ?? 0 };
    },
    undefined,
    { equals: (before, now) => before.consider === now.consider && before.stop === now.stop },
  );
  const isKnown = () => props.offered.cortexLost !== null && props.offered.cortexLostBefore !== null;
  return (
    <Show when={isKnown()}>
      <CostGauge before={props.offered.cortexLostBefore ?? 0} after={props.offered.cortexLost ?? 0} limits={limits()} />
    </Show>
  );
}

/** The open moves, four at a time in ladder order; then the closed ones with their reasons. */
export function Cards(props: { table: Table; page: number }) {
  const app = useApp();
  const atOnce = () => props.table.cardsAtOnce();
  const shown = createMemo(() => props.table.moves().slice(props.page * atOnce(), (props.page + 1) * atOnce()));
  const defers = () => shown().length > 0 && props.table.isSecond() && props.table.mayDefer() !== null;
  /** The closed moves would be two pages off. */
  const isFar = () => props.page === 0 && atOnce() < 4 && props.table.moves().length > atOnce();
  const words = { becomes: app.w('card.to'), have: app.w('card.here'), lacks: app.w('card.not-here') };
  createLayoutGuard(() =>
    [...shown().map(({ offered }) => offered.move), defers(), isFar(), props.table.isAbout()].join(),
  );
  /** "here: 7 of 9" for this move at the stage the called screw is in: told where the move is told of. */
  const here = ({ move }: OfferedMove) =>
    props.table.isAbout() ? hereWords(app.w, countedHere(app, move, props.table.screw()?.stage)) : '';
  const before = (offered: OfferedMove) => {
    if (here(offered)) return here(offered);
    const marks = marksOf(props.table, offered);
    // By the second ladder the rest stands on the sheet about the move.
    if (props.table.isSecond()) return props.table.script()?.oneLine(app, marks) ?? marks[0];
    return marks.length ? marks.join(' · ') : undefined;
  };
  return (
    <div class="cards" data-few={shown().length + (defers() ? 1 : 0) > 2 ? undefined : ''}>
      <For each={shown()}>
        {({ number, offered }) => (
          <MoveCard
            number={number}
            title={capital(app.content().phrases.moves[offered.move].glance)}
            drawing={<Drawn table={props.table} move={offered.move} />}
            turn={props.table.moveOf(offered.move).reverse ? app.w('card.anticlockwise') : undefined}
            figures={figuresOf(app, offered).slice(0, 1)}
            gauge={<CostOf offered={offered} />}
            before={before(offered)}
            words={words}
            onAct={() =>
              props.table.isAbout()
                ? props.table.setPanel({ kind: 'move', move: offered.move })
                : void props.table.start(offered.move)
            }
          />
        )}
      </For>
      <Show when={defers() || isFar()}>
        <div class={isFar() ? 'card-place' : 'card-alone'}>
          <Show when={defers()}>
            <MoveCard
              number={deferKey}
              title={app.w('card.defer')}
              drawing={isFar() ? undefined : <Drawn table={props.table} move="defer" />}
              before={props.table.script()?.deferMark(app)}
              closed={props.table.isAbout() ? '' : undefined}
              words={words}
              onAct={() => void props.table.defer()}
            />
          </Show>
          <Show when={isFar()}>
            <Touch size="small" class="card-why" onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'closed' })}>
              {app.w('table.closed-near')}
            </Touch>
          </Show>
        </div>
      </Show>
      <Show when={shown().length === 0}>
        <Closed table={props.table} page={props.page - Math.ceil(props.table.moves().length / atOnce())} />
      </Show>
    </div>
  );
}
