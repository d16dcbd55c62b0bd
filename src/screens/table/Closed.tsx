import { For, Show, createMemo } from 'solid-js';
import type { WithdrawnMove } from '../../../machines/view.types.ts';
import { capital } from '../../format/prose.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import './sheets-style.ts';
import { useApp, type App } from '../app.ts';
import { deferKey } from '../numbers.ts';
import { closedAtOnce } from './closed-pages.ts';
import type { Table } from './state.ts';

/** Why a move is closed, in words of the theatre. */
function closedWords(app: App, { why, missing }: WithdrawnMove): string {
  const { closed, tools } = app.content().phrases;
  const names = missing.map((tool) => tools[tool].label).join(', ');
  return names ? `${closed[why]}: ${names}` : closed[why];
}

/** A closed move with its reason, and what can be touched of it: its tool is here, the plate is lifted, it was done anyway. */
function Row(props: { table: Table; move: WithdrawnMove }) {
  const app = useApp();
  return (
    <li>
      <span>
        <b>{capital(app.content().phrases.moves[props.move.move].glance)}</b> {closedWords(app, props.move)}
      </span>
      <Show when={props.move.missing[0]}>
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
      <Show when={props.move.why === 'plate-on'}>
        <Touch size="small" onAct={() => void props.table.lift()}>
          {app.w('more.lift')}
        </Touch>
      </Show>
      <Touch
        size="small"
        label={app.w('closed.done-which', { move: app.content().phrases.moves[props.move.move].label })}
        onAct={() => void props.table.tell(props.move.move)}
      >
        {app.w('closed.done')}
      </Touch>
    </li>
  );
}

/** All closed moves at once, one touch from the first moves. */
export function ClosedSheet(props: { table: Table }) {
  const { w } = useApp();
  return (
    <Sheet title={w('table.closed-moves')} close={w('table.back')} onClose={() => props.table.home()}>
      <ul class="closed-list closed-all">
        <For each={props.table.screw()?.withdrawn ?? []}>{(move) => <Row table={props.table} move={move} />}</For>
        <Other table={props.table} />
      </ul>
    </Sheet>
  );
}

function Other(props: { table: Table }) {
  const { w, content } = useApp();
  return (
    <li>
      <span>
        <b>{content().phrases.moves.other.label}</b>
      </span>
      <Touch size="small" onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'other' })}>
        {w('closed.say')}
      </Touch>
    </li>
  );
}

/** Moves of the stage that are closed, each with its reason. */
export function Closed(props: { table: Table; page: number }) {
  const app = useApp();
  const all = () => props.table.screw()?.withdrawn ?? [];
  /** Where no move is open, to come back later stands first: its card has no place then. */
  const first = () => (props.table.defersInList() ? 1 : 0);
  const from = () => props.page * closedAtOnce - first();
  const closed = createMemo(() => all().slice(Math.max(0, from()), from() + closedAtOnce));
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
        <Show when={first() > 0 && props.page === 0}>
          <li>
            <span>
              <b>{app.w('card.defer')}</b> {app.w('table.number', { n: deferKey })}
            </span>
            <Touch size="small" label={app.w('card.defer')} onAct={() => void props.table.defer()}>
              {app.w('glance.later')}
            </Touch>
          </li>
        </Show>
        <For each={closed()}>{(move) => <Row table={props.table} move={move} />}</For>
        <Show when={hasOther()}>
          <Other table={props.table} />
        </Show>
      </ul>
    </section>
  );
}
