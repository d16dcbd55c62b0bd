import { For, Show, createEffect, createSignal, on } from 'solid-js';
import type { Answer, HoldId } from '../../../content/ids.ts';
import { Band } from '../../parts/Band.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { percent } from '../../format/figures.ts';
import { Touch } from '../../parts/Touch.tsx';
import type { Table } from './state.ts';
import { useApp } from '../app.ts';

const checks = ['recessCleared', 'fullySeated', 'inLine', 'freshDriver'] as const;

/** H1: look again before anything turns, or of one's own accord. Each check is optional; one touch says that somebody has looked. */
export function Reassess(props: { table: Table }) {
  const { w, content } = useApp();
  const [checked, setChecked] = createSignal<Partial<Record<(typeof checks)[number], boolean>>>({});
  const phrase = () => content().phrases.holds.reassess;
  const left = () => props.table.screw()?.chanceLeft;
  // What was seen on one screw was not seen on another.
  const screw = () => props.table.called();
  createEffect(on(screw, () => setChecked({}), { defer: true }));
  createLayoutGuard(screw);
  const toggle = (check: (typeof checks)[number]) => setChecked((all) => ({ ...all, [check]: !all[check] }));
  const looked = async () => {
    const id = screw();
    if (id === null) return;
    const result = await props.table.record({
      type: 'reassessed',
      screw: id,
      checks: checked(),
    });
    if (result.ok) props.table.home();
  };
  return (
    <div class="hold-panel with-checks">
      <Band
        kind="hold"
        title={props.table.reassess() ? phrase().label : w('look.again')}
        text={
          !props.table.reassess() || left() === null || left() === undefined
            ? phrase().help
            : `${phrase().help} ${w('hold.chance', { share: percent(left() ?? 0) })}`
        }
      />
      <div class="hold-checks" role="group" aria-label={w('hold.checks')}>
        <For each={checks}>
          {(check) => (
            <Touch size="card" pressed={checked()[check] === true} onAct={() => toggle(check)}>
              {w(`check.${check}`)}
            </Touch>
          )}
        </For>
      </div>
      <div class="hold-answers">
        <Touch size="card" onAct={() => void looked()}>
          {w('hold.looked')}
        </Touch>
        <Show
          when={props.table.reassess()}
          fallback={
            <Touch size="card" onAct={() => props.table.home()}>
              {w('table.back')}
            </Touch>
          }
        >
          <Touch size="card" onAct={() => void props.table.answer('reassess', 'go-on', w('hold.not-looked'))}>
            {w('hold.go-on-unlooked')}
          </Touch>
        </Show>
      </div>
    </div>
  );
}

/** Holds that stand in a row above the cards and leave them usable, the first with its answers. */
export function HoldRow(props: { table: Table }) {
  const { w, content } = useApp();
  const standing = () => props.table.standing();
  const now = () => (props.table.row() === 'ask' ? null : (standing()[0] ?? null));
  createLayoutGuard(() => `${props.table.row()} ${props.table.ask()?.key}`);
  /** A question in their place hides no hold: the next touch may be a move past it. */
  const behind = () =>
    standing()
      .map((hold) => content().phrases.holds[hold].label)
      .join(' · ');
  const give = (hold: HoldId, answer: Answer) => {
    if (answer === 'called') return void props.table.callColleague();
    if (answer === 'let-down') return void props.table.record({ type: 'tourniquet', to: 'down' });
    if (answer === 'go-on') return props.table.setPanel({ kind: 'sheet', sheet: 'holds' });
    return void props.table.answer(hold, answer);
  };
  return (
    <Show
      when={now()}
      fallback={
        <>
          <Show when={props.table.row() === 'ask' ? props.table.ask() : null}>
            {(ask) => (
              <div class="hold-row ask-row">
                <Band kind="notice" title={ask().title} text={behind()}>
                  <For each={ask().options}>
                    {(option) => <Touch onAct={() => void option.act(props.table)}>{option.label}</Touch>}
                  </For>
                </Band>
              </div>
            )}
          </Show>
          <Show when={props.table.row() === 'look'}>
            <div class="hold-row">
              <Band kind="notice" title={w('look.title')}>
                <Touch onAct={() => props.table.setPanel({ kind: 'look' })}>{w('look.again')}</Touch>
              </Band>
            </div>
          </Show>
        </>
      }
    >
      {(hold) => (
        <div class="hold-row">
          <Band
            kind="hold"
            title={content().phrases.holds[hold()].label}
            text={standing().length > 1 ? w('hold.more', { count: standing().length - 1 }) : ''}
          >
            <For each={content().holds.find(({ id }) => id === hold())?.answers ?? []}>
              {(answer) => <Touch onAct={() => give(hold(), answer)}>{w(`answer.${answer}`)}</Touch>}
            </For>
          </Band>
        </div>
      )}
    </Show>
  );
}
