import { For, Show, createMemo, untrack } from 'solid-js';
import { inZone } from '../../../machines/time.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { stairOf, triedOn, type Step, type Tried } from './tried.ts';
import type { Table } from './state.ts';
import './stair.css';

/** How many tries the folded stair names: the last ones. */
const lastOnes = 3;

/** What was tried on the called screw, in words: when, and how it ended. */
export function createTried(table: Table) {
  const { app } = table;
  const zone = () => app.open()?.folded.case.context.room.opened?.zone ?? 'UTC';
  const tried = createMemo(() => triedOn(app.open()?.folded.trace ?? null, table.called() ?? ''));
  const time = ({ at }: Tried) => inZone(at, zone()).time.slice(0, 5);
  const ended = ({ outcome, runs }: Tried) => {
    if (runs) return app.w('stair.now');
    return outcome === null ? app.w('stair.not-told') : app.content().phrases.outcomes[outcome].glance;
  };
  const made = ({ move }: Tried) => app.content().phrases.moves[move].glance;
  return { tried, time, ended, made };
}

/**
 * The escalation: the failures as steps down, each with what was tried in it last, the present one filled, the one that
 * would come next dashed. One touch leads to all of it, and to what lies ahead.
 */
export function Stair(props: { table: Table }) {
  const app = useApp();
  const { w } = app;
  const words = createTried(untrack(() => props.table));
  const screw = () => props.table.screw();
  const stair = createMemo(() => stairOf(words.tried(), screw()?.stage ?? 'seated'));
  const glance = (step: Step) => app.content().phrases.stages[step.stage].glance;
  const counts = () => w('stair.counts', { open: props.table.moves().length, closed: screw()?.withdrawn.length ?? 0 });
  return (
    <>
      <Touch class="stair" onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'forecast' })}>
        <For each={stair()}>
          {(step) => (
            <span class="stair-step" data-place={step.place}>
              <b>
                {glance(step)}
                <Show when={step.tried.length > 1}>
                  {' '}
                  <span class="stair-more figure">{w('stair.more', { count: step.tried.length - 1 })}</span>
                </Show>
              </b>
              <Show when={step.place === 'here' && step.tried.length === 0}>
                <span class="stair-counts">{counts()}</span>
              </Show>
              <Show when={step.tried.at(-1)}>
                {(last) => (
                  <span class="stair-try">
                    <span class="figure">{words.time(last())}</span>{' '}
                    <Show when={step.place === 'here'}>
                      <span class="stair-made">{words.made(last())}:</span>{' '}
                    </Show>
                    {words.ended(last())}
                  </span>
                )}
              </Show>
              <Show when={step.place === 'next'}>
                <span class="stair-try">{w(`stair.if.${step.stage}`)}</span>
              </Show>
            </span>
          )}
        </For>
        <span class="only-spoken">
          {w('stair.label', { screw: props.table.called() ?? '', count: words.tried().length })}
        </span>
      </Touch>
      <p class="stair-line" aria-hidden="true">
        <For each={words.tried().slice(-lastOnes)}>
          {(one) => (
            <span>
              <b class="figure">{words.time(one)}</b> {words.ended(one)}
            </span>
          )}
        </For>
      </p>
    </>
  );
}
