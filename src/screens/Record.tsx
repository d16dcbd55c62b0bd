import { For, Match, Show, Switch, createEffect, createMemo, createSignal, onCleanup } from 'solid-js';
import { printPage } from '../device/share.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Touch } from '../parts/Touch.tsx';
import { buildStillIn, notePage, type CaseRecord, type Page } from '../record/index.ts';
import type { OpenCase } from '../session/session.ts';
import { useApp } from './app.ts';
import { AccountHead } from './closing/AccountHead.tsx';
import { createRecorder } from './closing/recorder.ts';
import { FillIn } from './record/FillIn.tsx';
import { HandOver } from './record/HandOver.tsx';
import { Paper } from './record/Paper.tsx';
import { Print } from './record/Print.tsx';
import { CopyDone } from './record/CopyDone.tsx';
import { recordOf, timelineRows } from './record/record-of.ts';
import { WhenPicture } from './record/WhenPicture.tsx';
import { SignSheet } from './record/SignSheet.tsx';
import { StillInDrawings } from './record/StillInDrawings.tsx';
import { Timeline } from './record/Timeline.tsx';
import './record.css';

const tabs = ['note', 'fill-in', 'timeline', 'still-in', 'lists', 'hand-over'] as const;
type Tab = (typeof tabs)[number] | 'sign';
type Printed = 'note' | 'still-in' | 'lists';

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
  const noteOf = createMemo(() => notePage(record()));
  const stillIn = createMemo(() => buildStillIn(record(), props.open.folded.content));
  let body!: HTMLDivElement;
  createLayoutGuard(tab);
  createEffect(() => {
    tab();
    body.scrollTop = 0;
  });
  // The page that is open is the one that is printed, unless another was asked for.
  const onPaper = (): Printed => {
    const now = tab();
    return printing() ?? (now === 'still-in' || now === 'lists' ? now : 'note');
  };
  const sheets = (): Page =>
    ({ note: noteOf(), 'still-in': stillIn(), lists: lists(record(), w('record.lists-title')) })[onPaper()];
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
            <Paper
              page={stillIn()}
              first={(section) => (
                <Show when={section.id === 'patient'}>
                  <StillInDrawings record={record()} />
                </Show>
              )}
            />
            <Touch onAct={() => print('still-in')}>{w('record.print-still-in')}</Touch>
          </Match>
          <Match when={tab() === 'lists'}>
            <Paper page={lists(record(), w('record.lists-title'))} />
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
      <Print record={record()} page={sheets()} drawn={onPaper() === 'still-in'} />
    </main>
  );
}

/** What goes to sterile services and what has to be replaced. */
const lists = (record: CaseRecord, title: string): Page => ({
  title,
  sections: record.sections.filter(({ id }) => id === 'sterile'),
});
