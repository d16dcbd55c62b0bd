import { For, Match, Show, Switch, createSignal } from 'solid-js';
import { millimetres } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { isWorking } from '../../../machines/screw.context.ts';
import { MetalRow } from '../../pictures/MetalRow.tsx';
import { useApp } from '../app.ts';
import { piecesOf, scaleOf, type AccountRow } from './account.ts';
import { Figures, Listed } from './Account.tsx';
import { AllOfIt, RowAsks } from './AllOfIt.tsx';
import { DamageForm } from './DamageForm.tsx';
import { LeaveForm } from './LeaveForm.tsx';
import { PartForm } from './PartForm.tsx';
import type { Recorder } from './recorder.ts';
import { rowName, rowState } from './row-words.ts';

/** Longest piece that can be entered, mm. */
const longest = 400;

/** One screw or tip: what came out, what stays, what is missing; more pieces, or left in. */
export function RowSheet(props: { row: AccountRow; recorder: Recorder; onClose: () => void }) {
  const { w, content } = useApp();
  const [doing, setDoing] = createSignal<'look' | 'piece' | 'leave' | 'damage'>('look');
  /** The length was read from an image, not measured. */
  const [fromImage, setFromImage] = createSignal(false);
  createLayoutGuard(doing);
  const name = () => rowName(props.row, w, content());
  const ended = () => (props.row.stage === null || isWorking(props.row.stage) ? undefined : w('closing.has-ended'));
  const back = () => (doing() === 'look' ? props.onClose() : setDoing('look'));
  const piece = async (length: number | null) => {
    const lengthHow = fromImage() ? ('image' as const) : ('measured' as const);
    if (
      length !== null &&
      (await props.recorder.record({ type: 'piece-recovered', ...props.row.names, length, lengthHow }))
    )
      setDoing('look');
  };
  return (
    <Sheet title={name()} close={w('closing.back')} onClose={back}>
      <Switch>
        <Match when={props.row.part}>
          {(part) => <PartForm part={part()} recorder={props.recorder} onDone={props.onClose} />}
        </Match>
        <Match when={doing() === 'look'}>
          <div class="row-sheet">
            <p class="row-state">{rowState(props.row, w)}</p>
            <MetalRow
              listed={props.row.metal.listed}
              pieces={piecesOf(props.row)}
              diameter={props.row.diameter}
              scale={scaleOf([props.row])}
              label={w('closing.picture', { name: name() })}
            />
            <p class="row-figures">
              <Listed row={props.row} />
              <Figures row={props.row} />
            </p>
            <p class="small soft">{w('closing.key')}</p>
            <Show when={props.row.pieces.length}>
              <p class="small">
                {w('closing.pieces')}{' '}
                <For each={props.row.pieces}>{(length) => <b class="figure row-piece">{millimetres(length)}</b>}</For>
              </p>
            </Show>
            <RowAsks row={props.row} recorder={props.recorder} />
            <div class="choice-row">
              <AllOfIt row={props.row} recorder={props.recorder} />
              <Touch onAct={() => setDoing('piece')}>{w('closing.piece-out')}</Touch>
              <Show when={props.row.presumed}>
                <Touch onAct={() => setDoing('damage')}>{w('closing.describe-damage')}</Touch>
              </Show>
              <Touch consequential closed={ended()} onAct={() => setDoing('leave')}>
                {w('closing.leave-in')}
              </Touch>
            </div>
          </div>
        </Match>
        <Match when={doing() === 'piece'}>
          <Touch pressed={fromImage()} onAct={() => setFromImage(!fromImage())}>
            {w('closing.from-image')}
          </Touch>
          <NumberPad
            label={w('closing.piece-length')}
            unit="mm"
            value={null}
            min={0.5}
            max={longest}
            words={{ done: w('closing.record'), back: w('closing.rub-out'), range: w('closing.piece-range') }}
            onDone={(length) => void piece(length)}
          />
        </Match>
        <Match when={doing() === 'damage'}>
          <DamageForm tool={props.row.tool} recorder={props.recorder} onDone={() => setDoing('look')} />
        </Match>
        <Match when={doing() === 'leave'}>
          <LeaveForm row={props.row} recorder={props.recorder} onDone={() => setDoing('look')} />
        </Match>
      </Switch>
    </Sheet>
  );
}
