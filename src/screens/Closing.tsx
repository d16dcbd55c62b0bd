import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import { epoch, inZone } from '../../machines/time.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Band } from '../parts/Band.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { Touch } from '../parts/Touch.tsx';
import { localeOf } from '../record/locales/index.ts';
import type { OpenCase } from '../session/session.ts';
import { useApp } from './app.ts';
import { takenUpAsk } from './table/taken-up.ts';
import { Account } from './closing/Account.tsx';
import { accountOf, openFirst } from './closing/account.ts';
import { CountSheet } from './closing/CountSheet.tsx';
import { AftercareSheet } from './closing/AftercareSheet.tsx';
import { DamageForm } from './closing/DamageForm.tsx';
import { EndSheet } from './closing/EndSheet.tsx';
import { FoundMetal } from './closing/FoundMetal.tsx';
import { AccountHead } from './closing/AccountHead.tsx';
import { MetalPicture } from './closing/MetalPicture.tsx';
import { NumbersSheet } from './closing/NumbersSheet.tsx';
import { createRecorder } from './closing/recorder.ts';
import { RowSheet } from './closing/RowSheet.tsx';
import { standingOf } from './closing/standing.ts';
import { TakeBack } from './closing/TakeBack.tsx';
import { WashSheet } from './closing/WashSheet.tsx';
import './closing.css';

type Panel = 'account' | 'found' | 'wash' | 'numbers' | 'count' | 'end' | 'damage' | 'aftercare' | { row: string };

/** The end of a case: metal, wash-out, clocks, count; then the work and the case are ended and the record follows. */
export function Closing() {
  const { w, open } = useApp();
  return (
    <Show when={open()} fallback={<p class="closing">{w('closing.no-case')}</p>}>
      {(one) => <ClosingOf open={one()} />}
    </Show>
  );
}

function ClosingOf(props: { open: OpenCase }) {
  const app = useApp();
  const { w } = app;
  const recorder = createRecorder();
  const [panel, setPanel] = createSignal<Panel>('account');
  createLayoutGuard(panel);
  const rows = createMemo(() => accountOf(props.open.folded));
  const standing = createMemo(() => standingOf(props.open.folded, rows()));
  const home = () => setPanel('account');
  const rowShown = () => {
    const now = panel();
    return typeof now === 'object' ? rows().find(({ key }) => key === now.row) : undefined;
  };
  /** Asked here only where the case was taken up at its closing; before, it is asked at the table. */
  const takenUp = createMemo(() =>
    app.session.takenUp() && standing().phase === 'closing' && panel() === 'account' ? takenUpAsk(app) : null,
  );
  createLayoutGuard(() => takenUp() === null);
  const timeOf = (at: string) => inZone(epoch(at), props.open.folded.case.context.room.opened?.zone ?? 'UTC').time;

  const washState = () => {
    const { shavings, washed } = standing();
    if (shavings) return w('closing.state.to-do');
    if (!washed) return w('closing.state.no-shavings');
    return w(washed.type === 'washed-out' ? 'closing.state.washed' : 'closing.state.answered', {
      time: timeOf(washed.at),
    });
  };
  const clocksState = () => {
    const clocks = app.view()?.clocks;
    return clocks?.tourniquetUp
      ? w('closing.tourniquet-is-up')
      : w('closing.images-so-far', { shots: clocks?.shots ?? 0 });
  };
  const countState = () => {
    const { counted } = standing();
    return counted
      ? w('closing.state.counted', {
          by: counted.by.map((role) => localeOf(app.content().phrases.language).roles[role]).join(', '),
        })
      : w('closing.state.to-do');
  };
  const countWaits = () =>
    standing().phase === 'working' || standing().phase === 'briefing' ? w('closing.first.end') : undefined;

  return (
    <main class="closing" data-sheet={panel() === 'account' ? undefined : ''} data-asks={takenUp() ? '' : undefined}>
      <AccountHead
        title={w('closing.title')}
        back={w(standing().phase === 'briefing' ? 'closing.to-briefing' : 'closing.to-table')}
        onBack={() => app.go(standing().phase === 'briefing' ? 'briefing' : 'table')}
        refused={recorder.refused()}
      >
        <TakeBack recorder={recorder} />
        <Touch onAct={() => app.go('record')}>{w('closing.to-record')}</Touch>
      </AccountHead>
      <Show when={takenUp()}>
        {(ask) => (
          <div class="closing-ask">
            <Band kind="notice" title={ask().title}>
              <For each={ask().options}>
                {(option) => <Touch onAct={() => void option.act()}>{option.label}</Touch>}
              </For>
            </Band>
          </div>
        )}
      </Show>
      <Switch>
        <Match when={standing().phase === 'closed'}>
          <p>{w('closing.is-closed')}</p>
        </Match>
        <Match when={panel() === 'account'}>
          <div class="closing-metal">
            <MetalPicture rows={rows()} />
            <Account rows={openFirst(rows())} onOpen={(row) => setPanel({ row })} />
          </div>
          <nav class="closing-tasks" aria-label={w('closing.tasks')}>
            <Touch onAct={() => setPanel('wash')}>
              {w('closing.wash')}
              <small>{washState()}</small>
            </Touch>
            <Touch onAct={() => setPanel('numbers')}>
              {w('closing.numbers')}
              <small>{clocksState()}</small>
            </Touch>
            <Touch onAct={() => setPanel('damage')}>{w('closing.damage')}</Touch>
            <Touch onAct={() => setPanel('found')}>{w('closing.other-metal')}</Touch>
            <Touch onAct={() => setPanel('count')} closed={countWaits()}>
              {w('closing.count')}
              <Show when={!countWaits()}>
                <small>{countState()}</small>
              </Show>
            </Touch>
            <Touch consequential onAct={() => setPanel('end')}>
              {w(standing().phase === 'working' ? 'closing.end-work' : 'closing.close-case')}
            </Touch>
          </nav>
        </Match>
        <Match when={panel() === 'found'}>
          <FoundMetal recorder={recorder} onClose={home} />
        </Match>
        <Match when={panel() === 'wash'}>
          <WashSheet recorder={recorder} onClose={home} />
        </Match>
        <Match when={panel() === 'numbers'}>
          <NumbersSheet recorder={recorder} onClose={home} />
        </Match>
        <Match when={panel() === 'count'}>
          <CountSheet rows={rows()} recorder={recorder} onClose={home} />
        </Match>
        <Match when={panel() === 'damage'}>
          <Sheet title={w('closing.damage')} close={w('closing.back')} onClose={home}>
            <DamageForm tool={null} recorder={recorder} onDone={home} />
          </Sheet>
        </Match>
        <Match when={panel() === 'aftercare'}>
          <AftercareSheet recorder={recorder} onClose={() => setPanel('end')} />
        </Match>
        <Match when={panel() === 'end'}>
          <EndSheet
            standing={standing()}
            recorder={recorder}
            onAftercare={() => setPanel('aftercare')}
            onClose={home}
          />
        </Match>
        <Match when={rowShown()}>{(row) => <RowSheet row={row()} recorder={recorder} onClose={home} />}</Match>
      </Switch>
      <p class="closing-caution small">{w('closing.not-official')}</p>
    </main>
  );
}
