import { For, Show, createMemo, onCleanup, onMount, type JSX } from 'solid-js';
import { boneName } from '../../content/names.ts';
import { inZone } from '../../machines/time.ts';
import { span } from '../format/figures.ts';
import { allowTap } from '../parts/tap-guard.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Touch } from '../parts/Touch.tsx';
import { glanceSize, widthEm } from '../parts/type-size.ts';
import { useApp } from './app.ts';
import { sideWord } from './cases/side-word.ts';
import { glancePage, isSurgeons, type GlanceOption, type GlancePage } from './glance-page.ts';
import { capital } from '../format/prose.ts';
import { answersFor } from './table/Outcomes.tsx';
import { createTable } from './table/state.ts';
import { createRoomOf } from './size.ts';
import './glance-style.ts';

/** Width of the number before each option, in em: two digits as well. */
const numberEm = 1.3;

/** Least room before the cortex after an option, em. */
const afterGapEm = 0.6;

/** What an option says: its number, its words, and the cortex after it at the far end. */
export function GlanceOptionWords(props: { option: GlanceOption }) {
  return (
    <>
      <span class="glance-number figure">{props.option.number}</span> {capital(props.option.label)}
      <Show when={props.option.after}>{(after) => <span class="glance-after figure">{after()}</span>}</Show>
    </>
  );
}

/**
 * The size in which the lines of a glance page stand.
 *
 * @param distance m
 * @param room mm
 */
export function linesSize(page: GlancePage, distance: number, { width, height }: { width: number; height: number }) {
  const em = Math.max(
    widthEm(page.state),
    widthEm(page.question ?? ''),
    ...page.options.map(
      ({ label, after }) =>
        numberEm + widthEm(capital(label)) + (after === undefined ? 0 : afterGapEm + widthEm(after)),
    ),
  );
  return glanceSize(distance, { width: width - 8, height }, { lines: 5, em, footMm: 0 });
}

/** The lines of a glance page at the size the distance asks for; read aloud where they cannot fit. */
export function GlanceLines(props: { page: GlancePage; option: (option: GlanceOption) => JSX.Element }) {
  const app = useApp();
  const { room, ref } = createRoomOf(app, { width: 0, height: 0 });
  const lines = () => [
    props.page.state,
    props.page.question ?? '',
    ...props.page.options.map(({ label }) => capital(label)),
  ];
  const size = createMemo(() => linesSize(props.page, app.preferences().distance, room()));
  onMount(() => {
    createLayoutGuard(() => lines().join());
  });
  const fontMm = () => {
    const now = size();
    return now.fits ? now.fontMm : 9;
  };
  return (
    <div
      class="glance-lines"
      ref={ref}
      style={{ '--glance': `calc(${fontMm()} * var(--mm))` }}
      data-fits={size().fits ? '' : undefined}
      data-asks={props.page.question === undefined ? undefined : ''}
      data-arcminutes={size().arcminutes}
    >
      <h1 class="glance-state">{props.page.state}</h1>
      <Show when={props.page.question}>{(question) => <p class="glance-question">{question()}</p>}</Show>
      <Show when={!size().fits}>
        <p class="glance-aloud">{app.w('glance.too-small', { line: props.page.say })}</p>
      </Show>
      <For each={props.page.options}>{(option) => props.option(option)}</For>
    </div>
  );
}

/** The page for the case as it stands, with what its options act on. */
export function createGlance() {
  const app = useApp();
  const table = createTable(app);
  const opened = () => app.open()?.folded.case.context.room.opened;
  const side = () => sideWord(app.w, opened()?.side ?? '');
  const answers = createMemo(() => answersFor(table));
  const labels = () => answers().map(({ label }) => label);
  const page = createMemo((): GlancePage | null => {
    const view = app.view();
    return (
      view &&
      glancePage(
        view,
        app.content(),
        app.w,
        side(),
        labels(),
        table.isSecond() ? table.pendingHolds() : [],
        app.preferences().distance,
        table.pendingOffer(),
      )
    );
  });
  return { app, table, answers, page, where: () => `${side()} ${boneName(app.content(), opened()?.bone ?? '')}` };
}

/** The tourniquet while it is up, and the time of day. */
export function GlanceClocks() {
  const app = useApp();
  const clocks = () => app.view()?.clocks;
  return (
    <>
      <Show when={clocks()?.tourniquetUp}>
        <span class="figure">
          {app.w('clock.tourniquet')} {span(clocks()?.tourniquetMinutes ?? 0)}
        </span>
      </Show>
      <b class="figure">{inZone(app.tick(), app.open()?.folded.case.context.room.opened?.zone ?? 'UTC').time}</b>
    </>
  );
}

/** The whole tablet turned to the surgeon. Entries by number still work; one touch leads back. */
export function Glance() {
  const { app, table, answers, page, where } = createGlance();
  const act = (option: GlanceOption) => {
    switch (option.act.kind) {
      case 'start': {
        const { move } = option.act;
        const offered = table.moves().find((one) => one.offered.move === move)?.offered;
        // By the second ladder the surgeon reads what stands before the move; it is answered on the table screen.
        if (offered?.holds.length && table.isSecond() && table.fittingTools(move).length < 2) {
          void table.start(move, undefined, true);
          if (!offered.holds.some(isSurgeons)) table.turn('table');
        }
        // A question that has to be answered first is asked on the table screen.
        else if (offered?.holds.length || offered?.unknown) app.go('table');
        else void table.start(move);
        return;
      }
      case 'answer': {
        const chosen = answers()[option.act.index];
        if (chosen) void table.end(chosen.end);
        return;
      }
      case 'call':
        return void table.callColleague();
      case 'defer':
        return void table.defer();
      default:
        table.turn('table');
    }
  };
  const press = (event: KeyboardEvent) => {
    if (event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
    const option = page()?.options.find(({ number }) => String(number) === event.key);
    if (event.key === 'Escape') table.turn('table');
    else if (option && allowTap(performance.now())) act(option);
  };
  onMount(() => window.addEventListener('keydown', press));
  onCleanup(() => window.removeEventListener('keydown', press));
  return (
    <main class="glance">
      <Show when={page()}>
        {(now) => (
          <GlanceLines
            page={now()}
            option={(option) => (
              <Touch size="card" class="glance-option" onAct={() => act(option)}>
                <GlanceOptionWords option={option} />
              </Touch>
            )}
          />
        )}
      </Show>
      <footer class="glance-foot">
        <Touch onAct={() => table.turn('table')}>{app.w('glance.back')}</Touch>
        <b>{where()}</b>
        <Show when={(page()?.more ?? 0) > 0}>
          <span>{app.w('glance.more', { count: page()?.more ?? 0 })}</span>
        </Show>
        <GlanceClocks />
      </footer>
    </main>
  );
}
