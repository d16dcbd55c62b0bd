import { For, Match, Show, Switch, createEffect, createMemo, createSignal, onCleanup } from 'solid-js';
import { printPage } from '../device/share.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Touch } from '../parts/Touch.tsx';
import type { OpenCase } from '../session/session.ts';
import { useApp } from './app.ts';
import { AccountHead } from './closing/AccountHead.tsx';
import { createRecorder } from './closing/recorder.ts';
import { FillIn } from './record/FillIn.tsx';
import { HandOver } from './record/HandOver.tsx';
import { Paper } from './record/Paper.tsx';
import { Print } from './record/Print.tsx';
import { pageOf, type Printed } from './record/printed.ts';
import { CopyDone } from './record/CopyDone.tsx';
import { recordOf, timelineRows } from './record/record-of.ts';
import { WhenPicture } from './record/WhenPicture.tsx';
import { SignSheet } from './record/SignSheet.tsx';
import { StillInDrawings } from './record/StillInDrawings.tsx';
import { Timeline } from './record/Timeline.tsx';
import './record.css';
import './record/papers.css';

const tabs = ['note', 'fill-in', 'timeline', 'still-in', 'lists', 'hand-over'] as const;
type Tab = (typeof tabs)[number] | 'sign';

/** The record of the open case: read, filled in, corrected, signed and handed over. */
export function Record() {
  const { w, open } = useApp();
  return (
    <Show when={open()} fallback={<p class="record">{w('closing.no-case')}</p>}>
      {(one) => <RecordOf open={one()} />}
    </Show>
  );
}

function RecordOf(props: { open: OpenCase }) {
  const app = useApp();
  const { w } = app;
  const recorder = createRecorder();
  const [tab, setTab] = createSignal<Tab>('note');
  const [printing, setPrinting] = createSignal<Printed | null>(null);
  const record = createMemo(() => recordOf(props.open));
  const page = (one: Printed) => pageOf(one, record(), props.open.folded.content);
  const noteOf = createMemo(() => page('note'));
  let body!: HTMLDivElement;
  createLayoutGuard(tab);
  createEffect(() => {
    tab();
    body.scrollTop = 0;
  });
  // The page that is open is the one that is printed, unless another was asked for.
  const onPaper = (): readonly Printed[] => {
    const asked = printing();
    if (asked !== null) return [asked];
    if (tab() === 'still-in') return ['patient', 'still-in'];
    return [tab() === 'lists' ? 'lists' : 'note'];
  };
  const sheets = () => onPaper().map((one) => ({ printed: one, page: one === 'note' ? noteOf() : page(one) }));
  const asked = () => setPrinting(null);
  window.addEventListener('afterprint', asked);
  onCleanup(() => window.removeEventListener('afterprint', asked));
  const print = (page: Printed) => {
    setPrinting(page);
    printPage();
  };
  const closed = () => app.view()?.phase === 'closed';
  const back = () => app.go(closed() ? 'cases' : 'closing');
  return (
    <main class="record">
      <AccountHead
        title={w('record.title')}
        back={w(closed() ? 'record.to-cases' : 'record.to-closing')}
        onBack={back}
        refused={recorder.refused()}
      >
        <Touch consequential pressed={tab() === 'sign'} onAct={() => setTab('sign')}>
          {w('record.sign')}
          <small>{w(`record.status.${record().facts.status}`)}</small>
        </Touch>
      </AccountHead>
      <nav class="record-tabs" aria-label={w('record.tabs')}>
        <For each={tabs}>
          {(one) => (
            <Touch pressed={tab() === one} onAct={() => setTab(one)}>
              {w(`record.tab.${one}`)}
            </Touch>
          )}
        </For>
      </nav>
      <div class="record-body scrolls" ref={body} tabindex="0">
        <Switch>
          <Match when={tab() === 'note'}>
            <Paper
              page={noteOf()}
              picture={({ onScreen }) => <WhenPicture picture={onScreen} rows={timelineRows(record())} />}
              last={(section) => (
                <Show when={section.id === 'done'}>
                  <CopyDone record={record()} />
                </Show>
              )}
            />
          </Match>
          <Match when={tab() === 'fill-in'}>
            <FillIn record={record()} recorder={recorder} />
          </Match>
          <Match when={tab() === 'timeline'}>
            <Timeline record={record()} recorder={recorder} />
          </Match>
          <Match when={tab() === 'still-in'}>
            <div class="two-papers">
              <Touch onAct={() => print('patient')}>{w('record.print-patient')}</Touch>
              <Touch onAct={() => print('still-in')}>{w('record.print-still-in')}</Touch>
            </div>
            <Paper page={page('patient')} />
            <Paper
              page={page('still-in')}
              first={(section) => (
                <Show when={section.id === 'surgeon'}>
                  <StillInDrawings record={record()} />
                </Show>
              )}
            />
          </Match>
          <Match when={tab() === 'lists'}>
            <Paper page={page('lists')} />
          </Match>
          <Match when={tab() === 'hand-over'}>
            <HandOver record={record()} onPrint={print} />
          </Match>
          <Match when={tab() === 'sign'}>
            <SignSheet record={record()} recorder={recorder} onClose={() => setTab('note')} />
          </Match>
        </Switch>
        <p class="small soft">{w('closing.not-official')}</p>
      </div>
      <Print record={record()} sheets={sheets()} />
    </main>
  );
}
