import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import type { Stage } from '../../content/ids.ts';
import { boneName } from '../../content/names.ts';
import { inZone, epoch } from '../../machines/time.ts';
import { deferred } from '../deferred.ts';
import { ownZone } from '../device/clock.ts';
import { Sheet } from '../parts/Sheet.tsx';
import { day } from '../format/figures.ts';
import { Touch } from '../parts/Touch.tsx';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { CaseOutline } from '../pictures/CaseOutline.tsx';
import { ranges } from '../format/lists.ts';
import { department } from '../session/department.ts';
import type { CaseLine } from '../session/session.ts';
import { outlinesOf } from '../session/case-outlines.ts';
import { oldCases } from '../session/retention.ts';
import { screenOf, useApp, type App } from './app.ts';
import { sideWord } from './cases/side-word.ts';
import { HelpOffer } from './help/HelpOffer.tsx';
import { helpSeen } from './help/seen.ts';
import { later } from './later.tsx';
import { usePrivacy } from './privacy.ts';
import './cases.css';
import '../format/list-messages.ts';
import { outcomeWords } from './failure-words.ts';

const Carries = later(() => import('./department/Carries.tsx').then((script) => script.Carries));
const CaseSheet = later(() => import('./cases/CaseSheet.tsx').then((script) => script.CaseSheet));
const DataSheet = later(() => import('./cases/DataSheet.tsx').then((script) => script.DataSheet));
const Help = later(() => import('./help/Help.tsx').then((script) => script.Help));
const ImportSheet = later(() => import('./cases/ImportSheet.tsx').then((script) => script.ImportSheet));
const NewCase = later(() => import('./cases/NewCase.tsx').then((script) => script.NewCase));
/** With the words that its entries are made of. */
const demos = deferred(async () => {
  const [demo, carried] = await Promise.all([
    import('../session/demo.ts'),
    import('../session/carried.ts'),
    import('../format/later-messages.ts'),
  ]);
  return { ...demo, ...carried };
});

type Page = { kind: 'list' | 'new' | 'import' | 'cautions' | 'data' | 'help' } | { kind: 'case'; caseId: string };

/** The cases of this device: what is open first, then what is past, and the ways in. */
export function Cases() {
  const app = useApp();
  const { w } = app;
  const [page, setPage] = createSignal<Page>({ kind: 'list' });
  const [refused, setRefused] = createSignal<string | null>(null);
  createLayoutGuard(page);
  // It is known a moment after the list stands there, and moves the list down.
  const isHelpOffered = () => helpSeen().ready() && !helpSeen().value();
  createLayoutGuard(isHelpOffered);
  const list = () => setPage({ kind: 'list' });
  const newest = (a: CaseLine, b: CaseLine) => epoch(b.lastAt ?? b.meta.created) - epoch(a.lastAt ?? a.meta.created);
  const going = createMemo(() =>
    app.session
      .lines()
      .filter(({ closed }) => !closed)
      .sort(newest),
  );
  const past = createMemo(() =>
    app.session
      .lines()
      .filter(({ closed }) => closed)
      .sort(newest),
  );
  const selected = () => {
    const now = page();
    return now.kind === 'case' ? app.session.lines().find(({ meta }) => meta.caseId === now.caseId) : undefined;
  };

  const privacy = usePrivacy();
  const today = createMemo(() => app.tick() - (app.tick() % 3_600_000));
  const old = createMemo(() => oldCases(app.session.lines(), privacy?.retentionMonths() ?? null, today()).length);

  const follows = () => {
    if (app.secure?.() === false) return w('cases.not-secure');
    return app.writer() ? undefined : w('cases.follows');
  };
  const storage = () => {
    const kept = app.storage();
    if (kept === 'kept') return w('cases.storage-kept');
    return kept === 'may-be-evicted' ? w('cases.storage-at-risk') : w('cases.storage-unknown');
  };
  const resume = (caseId: string) => {
    app.session.resume(caseId);
    if (app.open()?.meta.caseId !== caseId) return setRefused(w('cases.no-content'));
    app.go(screenOf(app.view()));
  };
  /** The invented case, with the release to come. */
  const demo = async () => {
    const { demoDrafts, pinOver } = await demos.load();
    const [opening, ...rest] = demoDrafts(ownZone(), w);
    const { pin } = await pinOver(department().inUse());
    // Where that release cannot be had, it opens with nothing else.
    if (!pin) return setRefused(w('failure.not-fetched'));
    const opened = await app.session.create(opening, true, pin);
    const all = opened.ok ? await app.session.recordAll(rest) : opened;
    setRefused(all.ok ? null : outcomeWords(w, all.reason));
    if (all.ok) app.go('briefing');
  };

  return (
    <main class="cases">
      <Switch
        fallback={
          <>
            <header class="cases-head">
              <h1>{w('cases.title')}</h1>
              <p class="small">{w('cases.always')}</p>
              <Touch onAct={() => setPage({ kind: 'cautions' })}>{w('cases.cautions')}</Touch>
              <Touch onAct={() => app.go('settings')}>{w('cases.settings')}</Touch>
            </header>
            <div class="cases-body">
              <div class="cases-list scrolls">
                <Show when={refused()}>
                  {(reason) => (
                    <p class="refused" role="status">
                      {w('cases.refused', { reason: reason() })}
                    </p>
                  )}
                </Show>
                <HelpOffer
                  shown={isHelpOffered()}
                  onShow={() => {
                    void helpSeen().keep(true);
                    setPage({ kind: 'help' });
                  }}
                  onNotNow={() => void helpSeen().keep(true)}
                />
                <Show when={old()}>
                  {(count) => (
                    <Touch onAct={() => setPage({ kind: 'data' })}>
                      {w('data.old', { count: count(), months: privacy?.retentionMonths() ?? 0 })}
                    </Touch>
                  )}
                </Show>
                <For each={app.startTold()}>{(line) => <p class="small">{line}</p>}</For>
                <Show when={department().inUse()}>
                  <Carries />
                </Show>
                <For each={going()}>
                  {(line) => (
                    <CaseRow
                      line={line}
                      going
                      onOpen={() => resume(line.meta.caseId)}
                      onMore={() => setPage({ kind: 'case', caseId: line.meta.caseId })}
                    />
                  )}
                </For>
                <h2>{w('cases.past')}</h2>
                <For each={past()} fallback={<p class="soft">{w('cases.none-past')}</p>}>
                  {(line) => (
                    <CaseRow
                      line={line}
                      onOpen={() => resume(line.meta.caseId)}
                      onMore={() => setPage({ kind: 'case', caseId: line.meta.caseId })}
                    />
                  )}
                </For>
              </div>
              <nav class="cases-ways scrolls" aria-label={w('cases.ways')}>
                <Touch size="card" onAct={() => setPage({ kind: 'new' })} closed={follows()}>
                  {w('cases.new')}
                </Touch>
                <Touch size="card" onAct={() => void demo()} closed={follows()}>
                  <span>{w('cases.demo')}</span>
                  <small>{w('cases.demo-note')}</small>
                </Touch>
                <Touch size="card" onAct={() => setPage({ kind: 'import' })} closed={follows()}>
                  {w('cases.import')}
                </Touch>
                <Touch size="card" onAct={() => app.go('across')}>
                  <span>{w('across.open')}</span>
                  <small>{w('across.open-note')}</small>
                </Touch>
                <Touch size="card" onAct={() => setPage({ kind: 'data' })}>
                  <span>{w('cases.data')}</span>
                  <small>{storage()}</small>
                </Touch>
                <Show when={app.update()}>
                  {(update) => (
                    <Touch size="card" onAct={() => update()()}>
                      <span>{w('cases.update')}</span>
                      <small>{w('cases.update-note')}</small>
                    </Touch>
                  )}
                </Show>
              </nav>
            </div>
          </>
        }
      >
        <Match when={page().kind === 'new'}>
          <NewCase onClose={list} />
        </Match>
        <Match when={page().kind === 'import'}>
          <ImportSheet onClose={list} onOpen={resume} onBackup={() => setPage({ kind: 'data' })} />
        </Match>
        <Match when={page().kind === 'help'}>
          <Help onClose={list} />
        </Match>
        <Match when={page().kind === 'cautions'}>
          <Sheet page title={w('cases.cautions')} close={w('cases.back')} onClose={list}>
            <ul class="cautions">
              <For each={app.content().phrases.cautions}>{(line) => <li>{line}</li>}</For>
              <li class="soft">
                {w('cases.content-line', {
                  version: app.content().version,
                  reviewed: app.content().reviewed,
                  expires: app.content().expires,
                })}
              </li>
            </ul>
          </Sheet>
        </Match>
        <Match when={page().kind === 'data'}>
          <DataSheet onClose={list} storage={storage()} />
        </Match>
        <Match when={selected()}>{(line) => <CaseSheet line={line()} onClose={list} onOpen={resume} />}</Match>
      </Switch>
    </main>
  );
}

interface CaseRowProps {
  line: CaseLine;
  going?: boolean;
  onOpen: () => void;
  onMore: () => void;
}

function CaseRow(props: CaseRowProps) {
  const app = useApp();
  const { w } = app;
  const last = () => {
    const { date, time } = inZone(epoch(props.line.lastAt ?? props.line.meta.created), ownZone());
    return `${day(date)} ${time.slice(0, 5)}`;
  };
  const outline = createMemo(() => outlinesOf(app.session)(props.line.meta.caseId));
  return (
    <div class="case-row" data-going={props.going ? '' : undefined}>
      <Touch size="card" class="case-card" onAct={() => props.onOpen()}>
        <span class="case-words">
          <span class="case-label">{props.line.label || w('cases.no-label')}</span>{' '}
          <span class="case-side">
            <b>{sideWord(w, props.line.side)}</b> {boneName(app.content(), props.line.bone)}{' '}
            <Show when={props.line.meta.demo}>
              <small class="case-demo">{w('cases.invented')}</small>
            </Show>
          </span>
          <small>{standsWords(app, outline(), props.going === true)}</small>
          <small class="case-last">
            <span class="figure">{last()}</span> · {w('cases.entries', { count: props.line.entries })} ·{' '}
            {props.going ? w('cases.resume') : w('cases.to-record')}
          </small>
        </span>
        <span class="case-picture">
          <Show when={outline()}>{(one) => <CaseOutline {...one()} />}</Show>
        </span>
      </Touch>
      <Touch
        size="small"
        label={w('cases.more-of', { label: props.line.label || w('cases.no-label') })}
        onAct={() => props.onMore()}
      >
        {w('cases.more')}
      </Touch>
    </div>
  );
}

/** What came out of a case, what stays, and what nobody has said; a dash until it is read. */
function standsWords(
  { w }: Pick<App, 'w'>,
  outline: ReturnType<ReturnType<typeof outlinesOf>>,
  going: boolean,
): string {
  if (outline === undefined) return '–';
  if (outline === null) return w('cases.stands-unknown');
  const { construct, screws } = outline;
  const of = (test: (stage: Stage) => boolean) => screws.filter(({ stage }) => test(stage)).map(({ id }) => id);
  const stays = of((stage) => stage === 'left-in');
  const open = of((stage) => stage !== 'left-in' && stage !== 'out');
  const out = screws.length - stays.length - open.length;
  return [
    w(`cases.${construct}`),
    ...(screws.length === 0 ? [w('cases.no-screws')] : []),
    ...(out > 0 ? [out === screws.length ? w('cases.all-out') : w('cases.so-many-out', { count: out })] : []),
    ...(stays.length > 0 ? [w('cases.stay', { screws: ranges(stays) })] : []),
    ...(open.length > 0 ? [w(going ? 'cases.still-in' : 'cases.not-said', { screws: ranges(open) })] : []),
  ].join(' · ');
}
