import { For, Match, Show, Switch, createMemo, onCleanup, onMount } from 'solid-js';
import { inZone, epoch } from '../../../machines/time.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Touch } from '../../parts/Touch.tsx';
import { ConstructMap } from '../../pictures/ConstructMap.tsx';
import { takeBackMs, useApp } from '../app.ts';
import { deferred } from '../../deferred.ts';
import { createMedia, createRoomOf } from '../size.ts';
import { later } from '../later.tsx';
import { Cards } from './Cards.tsx';
import { closedPages } from './closed-pages.ts';
import { hasAllEnded } from './ended.ts';
import { LateBand } from './LateBand.tsx';
import { latePages } from './late-moves.ts';
import { createMapScrews } from './map-screws.ts';
import { HoldRow } from './HoldPanels.tsx';
import { Outcomes } from './Outcomes.tsx';
import { Stair } from './Stair.tsx';
import { Pictures, StageSection } from './Pictures.tsx';
import { sayEntry } from './said.ts';
import { createTable, type Table as State } from './state.ts';
import { TopBar } from './TopBar.tsx';
import './table.css';

const Reassess = later(() => import('./Reassess.tsx').then((script) => script.Reassess));
const FactCards = later(() => import('./FactCards.tsx').then((script) => script.FactCards));
const BeforeStart = later(() => import('./BeforeStart.tsx').then((script) => script.BeforeStart));
const LateMoves = later(() => import('./LateMoves.tsx').then((script) => script.LateMoves));
const ToolCards = later(() => import('./LateMoves.tsx').then((script) => script.ToolCards));
const AfterOut = later(() => import('./AfterOut.tsx').then((script) => script.AfterOut));
const BetweenTouches = later(() => import('./Between.tsx').then((script) => script.BetweenTouches));
const Between = later(() => import('./Between.tsx').then((script) => script.Between));
const OpenSheet = later(() => import('./OpenSheet.tsx').then((script) => script.OpenSheet));

const numberKeys = deferred(() => import('./number-keys.ts'));

/** The main screen: the called screw's stage, what is open for it and what it costs, the map, the clocks. */
export function Table() {
  const app = useApp();
  const table = createTable(app);
  useNumberKeys(table);
  const sheet = createMemo(() => {
    const panel = table.panel();
    return panel.kind === 'sheet' ? panel.sheet : panel.kind === 'move' ? 'move' : undefined;
  });
  /** What takes more room than cards do. */
  const shows = () => {
    const panel = table.panel();
    if (
      sheet() === 'closed' ||
      sheet() === 'hand-over' ||
      sheet() === 'leave' ||
      (sheet() === 'holds' && table.standing()[0] === 'still-fixed')
    )
      return 'wide';
    if (table.running()) return panel.kind === 'outcomes' && panel.all ? 'outcomes' : undefined;
    const isPast = panel.kind === 'moves' && panel.page * table.cardsAtOnce() >= table.moves().length;
    return isPast && table.called() !== null ? 'closed' : undefined;
  };
  /** What stands above the pictures: the way so far while moves are open, or that nothing starts. */
  const above = () => {
    if (shows() === 'closed') return null;
    if (table.called() === null || table.isLate() || table.running() || table.reassess()) return null;
    if (table.panel().kind !== 'moves' || table.pendingHolds().length > 0) return null;
    return table.isAbout() ? 'about' : 'stair';
  };
  const isLow = createMedia('(max-height: 810px) and (orientation: landscape)');
  /** No room for the band of pictures under the stair: the section alone stands beside the stage. */
  const isFolded = () => isLow() && sheet() === undefined && above() !== null;
  return (
    // What the style sheet has to know stands on the elements: finding it out among what lies within costs every entry.
    <main
      class="table"
      data-ladder={app.content().ladder}
      data-few={Object.keys(app.view()?.screws ?? {}).length < 7 ? '' : undefined}
      data-late={table.isLate() ? '' : undefined}
      data-sheet={sheet()}
      data-shows={shows()}
      data-stair={sheet() === undefined ? (above() ?? undefined) : undefined}
      data-row={sheet() === undefined ? (table.row() ?? undefined) : undefined}
    >
      <TopBar />
      <LateBand table={table} />
      <Map table={table} />
      <StageLine table={table} hasSection={isFolded()} />
      <Show when={sheet() === undefined && above()}>
        {(kind) => (
          <div class="table-stair">
            <Show
              when={kind() === 'stair'}
              fallback={
                <p class="about-mode" role="status">
                  {app.w('table.about-mode')}
                </p>
              }
            >
              <Stair table={table} />
            </Show>
            <Touch size="small" pressed={table.isAbout()} onAct={() => table.turnAbout()}>
              {app.w('table.about-moves')}
            </Touch>
          </div>
        )}
      </Show>
      <Switch
        fallback={
          <>
            <div class="table-pictures">
              <Show
                when={table.called() === null && !table.isLate()}
                fallback={
                  <Show when={!isFolded()}>
                    <Pictures table={table} />
                  </Show>
                }
              >
                <Between />
              </Show>
            </div>
            <HoldRow table={table} />
            <Panel table={table} />
          </>
        }
      >
        <Match when={sheet() !== undefined}>
          <OpenSheet table={table} onClose={() => table.home()} />
        </Match>
      </Switch>
      <LastSaid table={table} />
      <Foot table={table} />
    </main>
  );
}

function Map(props: { table: State }) {
  const app = useApp();
  const { room: box, ref } = createRoomOf(app, { width: 50, height: 110 });
  const screws = createMapScrews(app);
  return (
    <div class="table-map" ref={ref}>
      <ConstructMap
        construct={app.open()?.folded.case.context.room.opened?.construct ?? 'screws'}
        screws={screws()}
        called={props.table.called()}
        box={box()}
        flow={box().width > box().height ? 'row' : 'column'}
        label={app.w('map.label')}
        onCall={(id) => void props.table.call(id)}
        all={{
          label: app.w('map.all', { count: screws().length }),
          onAct: () => props.table.setPanel({ kind: 'sheet', sheet: 'screws' }),
        }}
      />
    </div>
  );
}

/** Letters that have room beside the stage, on two lines. */
const asideLetters = 34;

/** The called screw's stage in the largest type, and the line to read aloud. */
function StageLine(props: { table: State; hasSection: boolean }) {
  const app = useApp();
  const phrases = () => app.content().phrases;
  const running = () => props.table.screw()?.move ?? null;
  const say = () => {
    const move = running() ?? props.table.pending();
    const pause = props.table.pauses() && running() === null ? props.table.queue()[0] : undefined;
    const hold = props.table.reassess() ? 'reassess' : (props.table.pendingHolds()[0] ?? pause);
    if (hold) return phrases().holds[hold].say;
    return move ? phrases().moves[move].say : phrases().stages[props.table.screw()?.stage ?? 'seated'].say;
  };
  const isSecond = () => props.table.isSecond();
  /** By the second ladder they stand in lines of their own, with what else there is to know. */
  const notices = () =>
    isSecond()
      ? []
      : [...(props.table.screw()?.notices ?? []), ...(app.view()?.notices ?? [])].map(
          (notice) => phrases().holds[notice].label,
        );
  const isFree = () => running() === null && props.table.pending() === null && !props.table.reassess();
  /** What is told late is not told of now: what stands under the stage is silent then. */
  const notes = createMemo(() =>
    isSecond() && !props.table.isLate()
      ? (props.table.script()?.stageNotes(app, props.table.screw(), running(), isFree()) ?? [])
      : [],
  );
  /** One short note stands beside the stage, where it takes no line of its own. */
  const aside = createMemo(() => {
    const [only, more] = notes();
    return only && !more && only.text.length <= asideLetters ? only : null;
  });
  createLayoutGuard(() => `${notes().length} ${aside() !== null}`);
  return (
    <section class="table-stage" aria-live="polite">
      <Show when={props.table.screw()} fallback={<Uncalled table={props.table} />}>
        {(screw) => (
          <>
            <div class="stage-row">
              <h1 class="stage figure">
                {app.w('table.screw-stage', {
                  screw: props.table.called() ?? '',
                  stage: phrases().stages[screw().stage].glance,
                })}
              </h1>
              <p class="stage-aside">
                <Show when={isSecond() ? null : running()}>
                  {(move) => <b>{app.w('table.now', { move: phrases().moves[move()].glance })}</b>}
                </Show>
                <Show when={!isSecond() && screw().slips > 0 && screw().chanceLeft !== null}>
                  <span>
                    {app.w('table.slips', { count: screw().slips, share: Math.round((screw().chanceLeft ?? 0) * 100) })}
                  </span>
                </Show>
                <For each={notices()}>{(notice) => <b>{notice}</b>}</For>
                <Show when={aside()}>
                  {(note) => <span class="stage-note">{note().strong ? <b>{note().text}</b> : note().text}</span>}
                </Show>
              </p>
              <Show when={props.hasSection}>
                <StageSection table={props.table} />
              </Show>
            </div>
            <p class="say">{app.w('table.say', { line: say() })}</p>
          </>
        )}
      </Show>
      <For each={aside() ? [] : notes()}>
        {({ text, strong }) => <p class="stage-note">{strong ? <b>{text}</b> : text}</p>}
      </For>
    </section>
  );
}

function Uncalled(props: { table: State }) {
  const { w, view } = useApp();
  const left = () =>
    Object.values(view()?.screws ?? {}).filter(({ stage }) => stage !== 'out' && stage !== 'left-in').length;
  return (
    <>
      <h1 class="stage">
        <Show when={props.table.lastOut()} fallback={w(left() ? 'table.call-one' : 'table.all-ended')}>
          {(id) => w('table.out', { screw: id() })}
        </Show>
      </h1>
      <p class="say">{w(left() ? 'table.say-call' : 'table.say-close', { count: left() })}</p>
    </>
  );
}

/** Cards, outcomes, or the hold that takes their place. */
function Panel(props: { table: State }) {
  const app = useApp();
  const page = () => {
    const panel = props.table.panel();
    return panel.kind === 'moves' ? panel.page : 0;
  };
  const all = () => {
    const panel = props.table.panel();
    return panel.kind === 'outcomes' && panel.all;
  };
  const toolPanel = () => {
    const panel = props.table.panel();
    return panel.kind === 'tools' ? panel : null;
  };
  const factPanel = () => {
    const panel = props.table.panel();
    return panel.kind === 'fact' ? panel : null;
  };
  const looking = () => props.table.panel().kind === 'look' && props.table.mayLook();
  const shown = createMemo(() => {
    if (props.table.isLate() && props.table.running() === null) return props.table.called() === null ? 'ended' : 'late';
    if (props.table.running()) return 'outcomes';
    if (props.table.called() === null) return 'ended';
    if (toolPanel()) return 'tools';
    if (factPanel()) return 'fact';
    if (props.table.reassess() || looking()) return 'reassess';
    return props.table.pending() !== null && props.table.pendingHolds().length > 0 ? 'holds' : 'cards';
  });
  /** Is something asked of the screw that came out last, or of the closing? */
  const asks = () => props.table.lastOut() !== null || hasAllEnded(app.view());
  /** Is it as high as what it holds, and not as two rows of cards? */
  const free = () =>
    ['reassess', 'holds'].includes(shown()) || (shown() === 'outcomes' && all()) || (shown() === 'ended' && !asks());
  // What is shown anew has no earlier layout of its own to compare with: the place it takes has.
  createLayoutGuard(() => (shown() === 'ended' ? `ended ${props.table.lastOut()}` : shown()));
  return (
    <div class="table-panel" data-free={free() ? '' : undefined}>
      <Switch fallback={<Cards table={props.table} page={page()} />}>
        <Match when={shown() === 'ended'}>
          <Show when={asks()} fallback={<BetweenTouches table={props.table} />}>
            <AfterOut table={props.table} />
          </Show>
        </Match>
        <Match when={shown() === 'late'}>
          <LateMoves table={props.table} page={page()} />
        </Match>
        <Match when={shown() === 'tools' ? toolPanel() : null}>
          {(panel) => <ToolCards table={props.table} move={panel().move} tools={panel().tools} />}
        </Match>
        <Match when={shown() === 'fact' ? factPanel() : null}>
          {(panel) => <FactCards table={props.table} move={panel().move} fact={panel().fact} />}
        </Match>
        <Match when={shown() === 'outcomes'}>
          <Outcomes table={props.table} all={all()} />
        </Match>
        <Match when={shown() === 'reassess'}>
          <Reassess table={props.table} />
        </Match>
        <Match when={shown() === 'holds'}>
          <BeforeStart table={props.table} />
        </Match>
      </Switch>
    </div>
  );
}

/** What was done last in words, which taking up the log is not; a refusal shows in the same place. */
function LastSaid(props: { table: State }) {
  const app = useApp();
  const last = () => app.open()?.entries.findLast(({ type }) => type !== 'resumed');
  const zone = () => app.open()?.folded.case.context.room.opened?.zone ?? 'UTC';
  const mark = () => {
    const result = app.session.copies();
    if (props.table.problem()) return app.w('table.not-recorded');
    return result.ok && result.copies === 1 ? app.w('table.one-copy') : null;
  };
  const text = () => {
    const entry = last();
    const open = app.open();
    return props.table.problem() ?? (entry && open ? sayEntry(entry, open.folded) : '');
  };
  return (
    <p class="table-said" aria-live="polite">
      <span class="figure">{inZone(epoch(last()?.at ?? '1970-01-01T00:00:00Z'), zone()).time}</span>{' '}
      <Show when={mark()}>{(word) => <b class="said-mark">{word()}</b>}</Show> {text()}
    </p>
  );
}

/** Always one touch away: take back, leave it in, call someone, show surgeon, the other moves, more. */
function Foot(props: { table: State }) {
  const app = useApp();
  const { w } = app;
  const open = () => Math.ceil(props.table.moves().length / props.table.cardsAtOnce());
  /** The last page: closed moves follow on the open ones. */
  const pages = () =>
    props.table.isLate()
      ? latePages(app.content()) - 1
      : open() + closedPages((props.table.screw()?.withdrawn.length ?? 0) + (props.table.defersInList() ? 1 : 0)) - 1;
  const page = () => {
    const panel = props.table.panel();
    return panel.kind === 'moves' ? panel.page : -1;
  };
  const nextPage = () => (page() + 1 > pages() ? 0 : page() + 1);
  const others = () => {
    const next = nextPage();
    const shown = props.table.moves().slice(next * props.table.cardsAtOnce(), (next + 1) * props.table.cardsAtOnce());
    const [first, last] = [shown[0]?.number ?? 0, shown.at(-1)?.number ?? 0];
    if (next === 0) return w('table.first-moves');
    if (props.table.isLate()) return w('table.more-moves');
    if (next >= open()) return w('table.closed-moves');
    return first === last ? w('table.move-one', { n: first }) : w('table.moves-range', { first, last });
  };
  const idle = () => props.table.called() === null;
  const last = () => app.open()?.entries.at(-1);
  const backFor = () => {
    const entry = last();
    if (!entry || ['struck', 'resumed'].includes(entry.type) || entry.n === 1) return 0;
    const left = takeBackMs - Math.max(0, app.tick() - epoch(entry.logged));
    return Math.max(0, Math.ceil(left / 1000));
  };
  const takeBack = async () => {
    const entry = last();
    if (entry)
      await props.table.record({
        type: 'struck',
        entry: entry.n,
        reason: w('log.reason.taken-back'),
      });
    props.table.home();
  };
  return (
    <nav class="table-foot" aria-label={w('table.foot')}>
      <Touch onAct={() => void takeBack()} closed={backFor() > 0 ? undefined : w('table.nothing-back')}>
        {w('table.take-back')}
        <Show when={backFor() > 0}>
          <small class="figure">{w('table.back-for', { seconds: backFor() })}</small>
        </Show>
      </Touch>
      <Touch onAct={() => void props.table.callColleague()}>{w('table.colleague')}</Touch>
      <Touch onAct={() => props.table.turn('glance')}>{w('table.show')}</Touch>
      <Show
        when={idle() || props.table.running()}
        fallback={<Touch onAct={() => props.table.turnTo(nextPage())}>{others()}</Touch>}
      >
        <Touch onAct={() => void props.table.record({ type: 'images', shots: 1 })}>{w('table.image')}</Touch>
      </Show>
      <Touch onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'more' })}>{w('table.more')}</Touch>
      <Show
        when={!idle()}
        fallback={
          <Touch consequential onAct={() => void props.table.stopAll()}>
            {w('table.all-stop')}
          </Touch>
        }
      >
        <Touch consequential onAct={() => props.table.setPanel({ kind: 'sheet', sheet: 'leave' })}>
          {w('table.leave')}
          <Show when={props.table.leaveNumber() !== null}>
            <small class="figure">{w('table.number', { n: props.table.leaveNumber() ?? 0 })}</small>
          </Show>
        </Touch>
      </Show>
    </nav>
  );
}

/** Number keys choose the numbered cards; what listens to them comes once the table stands. */
function useNumberKeys(table: State): void {
  let stop: (() => void) | null = null;
  let isGone = false;
  const listen = ({ listenToNumbers }: typeof import('./number-keys.ts')) => {
    if (!isGone) stop = listenToNumbers(table);
  };
  onMount(() => {
    const here = numberKeys.loaded();
    if (here) listen(here);
    else
      numberKeys.load().then(listen, () => {
        // Without it the cards are touched.
      });
  });
  onCleanup(() => {
    isGone = true;
    stop?.();
  });
}
