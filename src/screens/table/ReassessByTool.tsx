import { For, Show, createEffect, createMemo, on } from 'solid-js';
import { moveOf } from '../../../content/moves.ts';
import type { EntryOf } from '../../../machines/entry.ts';
import { attemptsOf, rowsOf, type Attempt } from '../../../machines/trace.ts';
import { madeMove } from '../../../machines/second-ladder.ts';
import { slipKind } from '../../../machines/screw.context.ts';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { CheckTouches, createChecks } from './Checks.tsx';
import { waitingWords } from './marks.ts';
import { LookAnswers } from './LookAnswers.tsx';
import type { Table } from './state.ts';

type Checks = EntryOf<'reassessed'>['checks'];

/** H1 by the second ladder: what is looked at goes by the kind of tool that slipped; of the recess each word is an entry. */
export function ReassessByTool(props: { table: Table }) {
  const app = useApp();
  const { w, content } = app;
  const checks = createChecks();
  const phrase = () => content().phrases.holds.reassess;
  const screw = () => props.table.called();
  createEffect(on(screw, checks.clear, { defer: true }));
  /** The move that slipped last on this screw; null when somebody looks of their own accord. */
  const slipped = createMemo((): Attempt | null => {
    const open = app.open();
    const id = screw();
    if (!open || !props.table.reassess()) return null;
    return (
      attemptsOf(open.folded.trace).findLast(
        (one) => one.screw === id && one.end?.type === 'move-ended' && one.end.outcome === 'slipped',
      ) ?? null
    );
  });
  const made = () => {
    const attempt = slipped();
    if (!attempt) return null;
    return madeMove(content(), moveOf(content(), attempt.move), { tool: attempt.tool });
  };
  const kind = () => {
    const move = made();
    return move === null ? 'driver' : slipKind(move);
  };
  const ids = () =>
    (content().holds.find(({ id }) => id === 'reassess')?.checks ?? []).flatMap((check) =>
      check.with === kind() ? [check.id] : [],
    );
  /** The end to be answered for: the tool turned in the recess, and nobody has said what the recess is like. */
  const recessOf = createMemo((): number | null => {
    const [attempt, open] = [slipped(), app.open()];
    if (!attempt?.end || attempt.end.type !== 'move-ended' || !open || made()?.turnsInRecess !== true) return null;
    const { n, recess } = attempt.end;
    const isSaid = rowsOf(open.folded.trace).some(
      ({ entry, heard }) => heard && entry.type === 'move-answered' && entry.of === n && entry.recess !== undefined,
    );
    return recess === undefined && !isSaid ? n : null;
  });
  createLayoutGuard(() => `${screw()} ${kind()} ${recessOf()}`);
  const looked = async () => {
    const id = screw();
    if (id === null) return;
    const known = Object.entries(checks.said()).filter(([, said]) => said !== 'not-known');
    const said = Object.fromEntries(known.map(([check, answer]) => [check, answer === 'yes'])) as Checks;
    if ((await props.table.record({ type: 'reassessed', screw: id, checks: said })).ok) props.table.home();
  };
  return (
    <div class="hold-panel with-checks">
      <Band
        kind="hold"
        title={props.table.reassess() ? phrase().label : w('look.again')}
        text={`${phrase().help} ${waitingWords(
          app,
          props.table.queue().filter((hold) => !props.table.standing().includes(hold)),
        )}`}
      />
      <Show when={recessOf()} fallback={<CheckTouches ids={ids()} said={checks.said()} onTouch={checks.touch} />}>
        {(of) => (
          <div class="hold-checks" role="group" aria-label={w('ask.recess', { screw: screw() ?? '' })}>
            <For each={['damaged', 'sound', 'not-seen'] as const}>
              {(recess) => (
                <Touch size="card" onAct={() => void props.table.record({ type: 'move-answered', of: of(), recess })}>
                  {w(`reassess.recess-${recess}`)}
                </Touch>
              )}
            </For>
          </div>
        )}
      </Show>
      <LookAnswers table={props.table} onLooked={() => void looked()} />
    </div>
  );
}
