import { Show } from 'solid-js';
import { headPlaces } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { AccountRow } from './account.ts';
import type { Recorder } from './recorder.ts';

interface Props {
  row: AccountRow;
  recorder: Recorder;
}

/** All of a screw or tip is there: seen whole, or its pieces laid together. */
export function AllOfIt(props: Props) {
  const app = useApp();
  const { w } = app;
  const broke = () =>
    props.row.screw === null || (app.open()?.folded.screws.get(props.row.screw)?.context.breaks.length ?? 0) > 0;
  const all = () =>
    void props.recorder.record({
      type: 'piece-recovered',
      ...props.row.names,
      ...(broke() ? { complete: true } : { whole: true as const }),
    });
  return (
    <Show when={props.row.state !== 'accounted'}>
      <Touch onAct={all}>{w(broke() ? 'closing.all-complete' : 'closing.all-whole')}</Touch>
    </Show>
  );
}

/** What is asked of a screw that came out short, or whose head came off, until somebody answers. */
export function RowAsks(props: Props) {
  const app = useApp();
  const { w } = app;
  const screw = () => app.open()?.folded.screws.get(props.row.screw ?? '')?.context;
  const headOff = () => screw()?.breaks.some(({ what }) => what === 'head' || what === 'drilled') ?? false;
  const short = (answer: 'broke' | 'listed-wrong' | 'lost', reachable?: boolean) =>
    props.row.screw !== null &&
    void props.recorder.record({
      type: 'length-answered',
      screw: props.row.screw,
      answer,
      ...(reachable !== undefined && { reachable }),
    });
  return (
    <>
      <Show when={screw()?.lengthAsked}>
        <div class="choice" role="group" aria-label={w('ask.length.closing')}>
          <span class="choice-label">{w('ask.length.closing')}</span>
          <div class="choice-row">
            <Touch onAct={() => short('broke', true)}>{w('ask.length.broke-reachable')}</Touch>
            <Touch onAct={() => short('broke', false)}>{w('ask.length.broke-deep')}</Touch>
            <Touch onAct={() => short('listed-wrong')}>{w('ask.length.listed-wrong')}</Touch>
            <Touch onAct={() => short('lost')}>{w('ask.length.lost')}</Touch>
          </div>
        </div>
      </Show>
      <Show when={headOff() && screw()?.head === null}>
        <Choice
          label={w('ask.head.closing')}
          options={headPlaces.map((value) => ({ value, label: w(`ask.head.${value}`) }))}
          value={screw()?.head?.place ?? null}
          onChoose={(head) =>
            props.row.screw !== null && void props.recorder.record({ type: 'head-seen', screw: props.row.screw, head })
          }
        />
      </Show>
    </>
  );
}
