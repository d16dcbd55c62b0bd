import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import type { CaseRecord, TimelineRow } from '../../record/model.ts';
import { useApp } from '../app.ts';
import { offers } from '../closing/offers.ts';
import type { Recorder } from '../closing/recorder.ts';
import { Twice } from '../closing/Twice.tsx';
import { timelineRows } from './record-of.ts';

/**
 * Every entry with its marks. A wrong one is struck with a reason and stays legible. Once the case is closed only the
 * closing itself can be struck, which opens the case again.
 */
export function Timeline(props: { record: CaseRecord; recorder: Recorder }) {
  const app = useApp();
  const { w } = app;
  const [striking, setStriking] = createSignal<number | null>(null);
  createLayoutGuard(striking);
  const rows = createMemo(() => timelineRows(props.record));
  const closed = () => app.view()?.phase === 'closed';
  const outOfOrder = (n: number) => app.view()?.outOfOrder.includes(n) ?? false;
  const canStrike = (row: TimelineRow) =>
    row.type !== 'struck' &&
    row.type !== 'case-opened' &&
    !row.struck &&
    !outOfOrder(row.n) &&
    (!closed() || row.type === 'case-closed');
  const shown = () => rows().find(({ n }) => n === striking());
  return (
    <Switch>
      <Match when={shown()}>
        {(row) => <StrikeSheet row={row()} recorder={props.recorder} onClose={() => setStriking(null)} />}
      </Match>
      <Match when={!shown()}>
        <p class="record-count">{w(closed() ? 'record.timeline-closed' : 'record.timeline-help')}</p>
        <ol class="entries">
          <For each={rows()}>
            {(row) => (
              <li class="entry" data-struck={row.struck ? '' : undefined}>
                <span class="figure">
                  {row.time} <small>({row.n})</small>
                </span>
                <span>
                  <For each={row.marks}>{(mark) => <b class="entry-mark">{mark}</b>}</For>{' '}
                  <Show when={row.struck} fallback={row.sentence}>
                    <s>{row.sentence}</s>
                  </Show>
                </span>
                <Show when={canStrike(row)}>
                  <Touch
                    size="small"
                    label={row.type === 'case-closed' ? w('record.reopen') : w('record.strike-this', { n: row.n })}
                    onAct={() => setStriking(row.n)}
                  >
                    {w(row.type === 'case-closed' ? 'record.reopen' : 'record.strike')}
                  </Touch>
                </Show>
              </li>
            )}
          </For>
        </ol>
      </Match>
    </Switch>
  );
}

function StrikeSheet(props: { row: TimelineRow; recorder: Recorder; onClose: () => void }) {
  const { w } = useApp();
  const [reason, setReason] = createSignal('');
  const reopens = () => props.row.type === 'case-closed';
  const lacks = () => (reason().trim() === '' ? w('record.reason-first') : undefined);
  const strike = async () => {
    if (await props.recorder.record({ type: 'struck', entry: props.row.n, reason: reason().trim() })) props.onClose();
  };
  return (
    <Sheet
      title={w(reopens() ? 'record.reopen-title' : 'record.strike-title', { n: props.row.n })}
      close={w('closing.back')}
      onClose={() => props.onClose()}
    >
      <div class="closing-form">
        <p>
          <span class="figure">{props.row.time}</span> {props.row.sentence}
        </p>
        <p class="small">{w(reopens() ? 'record.reopen-help' : 'record.strike-help')}</p>
        <TextEntry
          label={w('record.reason')}
          value={reason()}
          rows={2}
          offers={offers(w, reopens() ? 'record.offer.reopen' : 'record.offer.strike')}
          onInput={setReason}
        />
        <Show
          when={reopens()}
          fallback={
            <Touch consequential closed={lacks()} onAct={() => void strike()}>
              {w('record.strike-yes')}
            </Touch>
          }
        >
          <Twice
            label={w('record.reopen')}
            question={w('record.reopen-question')}
            yes={w('record.reopen-yes')}
            closed={lacks()}
            onYes={() => void strike()}
          />
        </Show>
      </div>
    </Sheet>
  );
}
