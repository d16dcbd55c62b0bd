import { Match, Show, Switch } from 'solid-js';
import './sheets-style.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { useApp } from '../app.ts';
import { Forecast } from '../forecast/later.ts';
import { ClosedSheet } from './Closed.tsx';
import { ConflictSheet } from './ConflictSheet.tsx';
import { LeaveSheet } from './LeaveSheet.tsx';
import { LogSheet } from './LogSheet.tsx';
import {
  ClocksSheet,
  FoundSheet,
  HoldsSheet,
  LengthSheet,
  MoreSheet,
  RemarkSheet,
  ToolSheet,
  WhenSheet,
} from './MoreSheets.tsx';
import { MoveSheet } from './MoveSheet.tsx';
import { MeasureSheet } from './MeasureSheet.tsx';
import { PartsSheet } from './PartsSheet.tsx';
import { PauseSheet } from './PauseSheet.tsx';
import { BoneSheet } from './BoneSheet.tsx';
import { pausing, type Table } from './state.ts';
import { ScrewsSheet } from './ScrewsSheet.tsx';
import { SoFar } from './SoFar.tsx';
import { TipSheet } from './TipSheet.tsx';
import { CorrectSheet, EventSheet, HandOverSheet, OtherSheet, StoppedSheet, WrongSheet } from './ToldSheets.tsx';

/** What lies over the pictures and the cards: one sheet at a time, which takes their place. */
export function OpenSheet(props: { table: Table; onClose: () => void }) {
  const app = useApp();
  const sheet = () => {
    const panel = props.table.panel();
    return panel.kind === 'sheet' ? panel.sheet : null;
  };
  const move = () => {
    const panel = props.table.panel();
    return panel.kind === 'move' ? panel.move : null;
  };
  const pause = () => pausing.find((hold) => hold === props.table.standing()[0]);
  return (
    <div class="table-sheet">
      <Switch>
        <Match when={move()}>{(id) => <MoveSheet table={props.table} move={id()} />}</Match>
        <Match when={sheet() === 'more'}>
          <MoreSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'closed'}>
          <ClosedSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'leave'}>
          <LeaveSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'found'}>
          <FoundSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'bone'}>
          <BoneSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'log'}>
          <LogSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'tool'}>
          <ToolSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'clocks'}>
          <ClocksSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'when'}>
          <WhenSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'remark'}>
          <RemarkSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'holds'}>
          <Show when={pause()} fallback={<HoldsSheet table={props.table} />}>
            {(hold) => <PauseSheet table={props.table} hold={hold()} />}
          </Show>
        </Match>
        <Match when={sheet() === 'measure'}>
          <MeasureSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'forecast'}>
          <Sheet title={app.w('more.forecast')} close={app.w('table.back')} onClose={() => props.onClose()}>
            <SoFar table={props.table} />
            <Forecast />
          </Sheet>
        </Match>
        <Match when={sheet() === 'wrong'}>
          <WrongSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'other'}>
          <OtherSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'stopped'}>
          <StoppedSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'hand-over'}>
          <HandOverSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'event'}>
          <EventSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'correct'}>
          <CorrectSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'conflict'}>
          <ConflictSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'parts'}>
          <PartsSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'screws'}>
          <ScrewsSheet table={props.table} onClose={() => props.onClose()} />
        </Match>
        <Match when={sheet() === 'tip'}>
          <TipSheet table={props.table} />
        </Match>
        <Match when={sheet() === 'length'}>
          <LengthSheet table={props.table} />
        </Match>
      </Switch>
    </div>
  );
}
