import { For, Show } from 'solid-js';
import type { MoveId } from '../../../content/ids.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import type { UnknownFact } from '../../../machines/view.types.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { MoveCard } from '../../parts/MoveCard.tsx';
import { NumberPad } from '../../parts/NumberPad.tsx';
import './sheets-style.ts';
import { useApp } from '../app.ts';
import type { Table } from './state.ts';

type Found = Omit<Extract<EntryDraft, { type: 'found' }>, 'type' | 'screw'>;

const words = { becomes: '', have: '', lacks: '' };

/** What a move rests on and nobody has told: yes enters it and starts, no enters it, not known starts all the same. */
export function FactCards(props: { table: Table; move: MoveId; fact: UnknownFact }) {
  const app = useApp();
  const { w } = app;
  createLayoutGuard(() => `${props.move} ${props.fact}`);
  const found = async (said: Found, starts: boolean) => {
    const screw = props.table.called();
    const move = props.move;
    if (screw === null || !(await props.table.record({ type: 'found', screw, ...said })).ok) return;
    if (starts && props.table.moves().some(({ offered }) => offered.move === move))
      await props.table.start(move, undefined, true);
    else props.table.home();
  };
  const measured = (mm: number | null) => mm !== null && void found({ shankStands: mm }, true);
  const options = () => [
    ...(props.fact === 'shankStands'
      ? []
      : [
          { label: w('fact.yes'), act: () => found({ [props.fact]: true }, true) },
          { label: w('fact.no'), act: () => found({ [props.fact]: false }, false) },
        ]),
    { label: w('fact.not-known'), act: () => props.table.start(props.move, undefined, true) },
    { label: w('hold.another'), act: () => Promise.resolve(props.table.home()) },
  ];
  return (
    <section class="fact" aria-label={w(`fact.${props.fact}`)}>
      <p>
        <b>{w(`fact.${props.fact}`)}</b>
      </p>
      <Show when={props.fact === 'shankStands'}>
        <NumberPad
          label={w('fact.shankStands')}
          unit="mm"
          value={null}
          min={0}
          max={100}
          words={{ done: w('remark.record'), back: w('pad.back'), range: w('fact.range') }}
          onDone={measured}
        />
      </Show>
      <div class="cards outcomes-all">
        <For each={options()}>
          {({ label, act }, i) => <MoveCard number={i() + 1} title={label} words={words} onAct={() => void act()} />}
        </For>
      </div>
    </section>
  );
}
