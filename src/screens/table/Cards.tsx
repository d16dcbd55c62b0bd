import { For, Show, createMemo } from 'solid-js';
import type { WithdrawnMove } from '../../../machines/view.types.ts';
import type { App } from '../app.ts';
import { bare, percent } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { MoveCard, type CardFigure } from '../../parts/MoveCard.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { capital } from '../../format/prose.ts';
import type { OfferedMove } from '../../../machines/view.types.ts';
import { deferKey } from '../numbers.ts';
import type { Table } from './state.ts';
import { aboutWords, countedHere, hereWords } from '../across/here.ts';
import { useApp } from '../app.ts';

/** What an offered move costs in bone, before → after where it changes. */
export function figuresOf(app: App, offered: OfferedMove): CardFigure[] {
  const { cortexLost, cortexLostBefore, bendingKept } = offered;
  if (cortexLost === null || cortexLostBefore === null)
    return [{ label: app.w('card.lost'), after: app.w('card.unknown-bone') }];
  const changes = cortexLost - cortexLostBefore > 1e-9;
  return [
    { label: app.w('card.lost'), after: percent(cortexLost), ...(changes && { before: bare(cortexLostBefore) }) },
    ...(changes ? [{ label: app.w('card.bends'), after: percent(bendingKept) }] : []),
  ];
}

/** Why a move is closed, in words of the theatre. */
export function closedWords(app: App, { why, missing }: WithdrawnMove): string {
  const { closed, tools } = app.content().phrases;
  const names = missing.map((tool) => tools[tool].label).join(', ');
  return names ? `${closed[why]}: ${names}` : closed[why];
}

/** The open moves, four at a time in ladder order; then the closed ones with their reasons. */
export function Cards(props: { table: Table; page: number }) {
  const app = useApp();
  const atOnce = () => props.table.cardsAtOnce();
  const shown = createMemo(() => props.table.moves().slice(props.page * atOnce(), (props.page + 1) * atOnce()));
  const defers = () => shown().length > 0 && atOnce() < 4;
  const words = { becomes: app.w('card.to'), have: app.w('card.here'), lacks: app.w('card.not-here') };
  createLayoutGuard(() => [...shown().map(({ offered }) => offered.move), defers()].join());
  const before = (offered: OfferedMove) => {
    const holds = offered.holds.map((hold) => app.content().phrases.holds[hold].glance);
    const marks = [
      ...holds,
      ...(offered.shavings ? [app.w('card.shavings')] : []),
      ...offered.assumed.map((what) => app.w(`card.assumed-${what}`)),
      ...(props.table.script()?.cardMarks(app, offered) ?? []),
    ];
    return marks.length ? marks.join(' · ') : undefined;
  };
  /** "Here: 7 of 9" for this move at the stage the called screw is in. */
  const here = ({ move }: OfferedMove) => countedHere(app, move, props.table.screw()?.stage);
  return (
    <div class="cards" data-few={shown().length + (defers() ? 1 : 0) > 2 ? undefined : ''}>
      <For each={shown()}>
        {({ number, offered }) => (
          <div class="card-place">
            <MoveCard
              number={number}
              title={capital(app.content().phrases.moves[offered.move].glance)}
              turn={props.table.moveOf(offered.move).reverse ? app.w('card.anticlockwise') : undefined}
              figures={figuresOf(app, offered).slice(0, before(offered) ? 1 : 2)}
              before={before(offered)}
              words={words}
              onAct={() => void props.table.start(offered.move)}
            />
            <Touch
              size="small"
              class="card-why"
              label={aboutWords(
                app.w,
                app.w('card.why', { move: app.content().phrases.moves[offered.move].label }),
                here(offered),
              )}
              onAct={() => props.table.setPanel({ kind: 'move', move: offered.move })}
            >
              {app.w('card.about')}
              <Show when={here(offered)}>
                {' '}
                <small class="figure">{hereWords(app.w, here(offered))}</small>
              </Show>
            </Touch>
          </div>
        )}
      </For>
      <Show when={defers()}>
        <MoveCard number={deferKey} title={app.w('card.defer')} words={words} onAct={() => void props.table.defer()} />
      </Show>
      <Show when={shown().length === 0}>
        <Closed table={props.table} page={props.page - Math.ceil(props.table.moves().length / atOnce())} />
      </Show>
    </div>
  );
}

/** Closed moves on one page, the last of them something that no card names. */
const closedAtOnce = 4;

/** Pages of closed moves and of what no card names. */
export const closedPages = (closed: number): number => Math.ceil((closed + 1) / closedAtOnce);

function Closed(props: { table: Table; page: number }) {
  const app = useApp();
  const all = () => props.table.screw()?.withdrawn ?? [];
  const from = () => props.page * closedAtOnce;
  const closed = createMemo(() => all().slice(from(), from() + closedAtOnce));
  const hasOther = () => all().length < from() + closedAtOnce;
  createLayoutGuard(() =>
    closed()
      .map(({ move }) => move)
      .join(),
  );
  return (
    <section class="closed" aria-label={app.w('table.closed-moves')}>
      <b>
        {app.w('table.closed-moves')}
        <Show when={props.table.moves().length === 0}>{`. ${app.w('table.nothing-open')}`}</Show>
      </b>
      <ul class="closed-list">
        <For each={closed()}>
          {(move) => (
            <li>
              <span>
                <b>{capital(app.content().phrases.moves[move.move].glance)}</b> {closedWords(app, move)}
              </span>
              <Show when={move.missing[0]}>
                {(tool) => (
                  <Touch
                    size="small"
                    label={app.w('closed.here-which', { tool: app.content().phrases.tools[tool()].label })}
                    onAct={() => void props.table.record({ type: 'tool-in-room', tool: tool(), present: true })}
                  >
                    {app.w('closed.here')}
                  </Touch>
                )}
              </Show>
              <Show when={move.why === 'plate-on'}>
                <Touch size="small" onAct={() => void props.table.lift()}>
                  {app.w('more.lift')}
                </Touch>
              </Show>
              <Touch
                size="small"
                label={app.w('closed.done-which', { move: app.content().phrases.moves[move.move].label })}
                onAct={() => void props.table.tell(move.move)}
              >
                {app.w('closed.done')}
              </Touch>
            </li>
          )}
        </For>
        <Show when={hasOther()}>
          <li>
            <span>
              <b>{app.content().phrases.moves.other.label}</b>
            </span>
            <Touch size="small" onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'other' })}>
              {app.w('closed.say')}
            </Touch>
          </li>
        </Show>
      </ul>
    </section>
  );
}
