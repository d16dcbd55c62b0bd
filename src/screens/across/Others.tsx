import { Show, createSignal, type JSX } from 'solid-js';
import type { WorkingStage } from '../../../content/ids.ts';
import { mostOfMemory } from '../../../content/series.ts';
import { wordsOfAny } from '../../../content/names.ts';
import type { MovedRate } from '../../../machines/across/moved.ts';
import type { UpdatedRate } from '../../../machines/across/rates.ts';
import type { Report } from '../../../machines/across/report.ts';
import { percent } from '../../format/figures.ts';
import { useApp } from '../app.ts';
import { capital } from '../../format/prose.ts';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Behind } from './Behind.tsx';
import { CountBars } from './CountBars.tsx';
import { Grid } from './Grid.tsx';
import { Quarters } from './Quarters.tsx';
import { Moved } from './Moved.tsx';
import { Uses } from './Uses.tsx';
import { rateKind, reasonWords } from './words.ts';

/** In how many cases metal stayed, quarter by quarter, and why; the tables one touch away. */
export function StayedIn(props: { report: Report }) {
  const { w, content } = useApp();
  const stage = (id: WorkingStage) => content().phrases.stages[id].label;
  const screws = (count: number) => (count === 1 ? w('across.one-screw') : w('across.so-many-screws', { count }));
  const reasons = () => {
    const sums = new Map<string, number>();
    for (const row of props.report.left) sums.set(row.reason, (sums.get(row.reason) ?? 0) + row.screws);
    return [...sums].map(([reason, count]) => ({ name: reasonWords(w, reason), count, told: screws(count) }));
  };
  return (
    <Pictured
      picture={
        <>
          <Quarters rows={props.report.quarters} />
          <CountBars title={w('across.why-left')} rows={reasons()} none={w('across.none-left')} />
        </>
      }
    >
      <Grid
        caption={w('across.quarters')}
        head={[w('across.quarter'), w('across.cases-stays'), w('across.cases-said'), w('across.cases-not-said')]}
        rows={props.report.quarters.map((row) => [row.quarter ?? w('across.no-day'), row.count, row.of, row.unsaid])}
        none={w('across.none-left')}
      />
      <Grid
        caption={w('across.left-title')}
        head={[w('across.stage'), w('across.reason'), w('across.screws')]}
        rows={props.report.left.map((row) => [stage(row.stage), reasonWords(w, row.reason), row.screws])}
        none={w('across.none-left')}
      />
      <Grid
        caption={w('across.still-title')}
        head={[w('across.stage'), w('across.screws')]}
        rows={props.report.stillIn.map((row) => [stage(row.stage), row.screws])}
        none={w('across.none-still')}
      />
    </Pictured>
  );
}

/** What was missing when it was needed, as bars; dead ends met and tools that broke in the tables behind. */
export function DeadEndsAndTools(props: { report: Report }) {
  const { w, content } = useApp();
  const tool = (id: string) => wordsOfAny(content(), 'tools', id)?.label ?? id;
  const screws = (count: number) => (count === 1 ? w('across.one-screw') : w('across.so-many-screws', { count }));
  const missing = () =>
    props.report.tools
      .filter((row) => row.missing > 0)
      .map((row) => ({ name: capital(tool(row.tool)), count: row.missing, told: screws(row.missing) }));
  const ends = () => {
    const sums = new Map<WorkingStage, number>();
    for (const row of props.report.deadEnds) sums.set(row.stage, (sums.get(row.stage) ?? 0) + row.screws);
    return [...sums].map(([id, count]) => ({ name: content().phrases.stages[id].label, count, told: screws(count) }));
  };
  return (
    <Pictured
      picture={
        <>
          <CountBars title={w('across.was-missing')} rows={missing()} none={w('across.none-missing')} />
          <Uses uses={props.report.uses} />
          <CountBars title={w('across.dead-title')} rows={ends()} none={w('across.none-dead')} />
        </>
      }
    >
      <Grid
        caption={w('across.dead-title')}
        head={[w('across.stage'), w('across.missing-head'), w('across.screws')]}
        rows={props.report.deadEnds.map(({ stage, missing: lacked, screws: count }) => [
          content().phrases.stages[stage].label,
          lacked.length ? lacked.map(tool).join(', ') : w('across.used-up'),
          count,
        ])}
        none={w('across.none-dead')}
      />
      <Grid
        caption={w('across.tools-title')}
        head={[w('across.tool'), w('across.tool-missing'), w('across.tool-broke'), w('across.tool-damaged')]}
        rows={props.report.tools.map((row) => [capital(tool(row.tool)), row.missing, row.broke, row.damaged])}
        none={w('across.none-tools')}
      />
      <p class="small soft">{w('across.tools-rules')}</p>
    </Pictured>
  );
}

/** Pictures first; the tables behind them are one touch away. */
function Pictured(props: { picture: JSX.Element; children: JSX.Element }) {
  const { w } = useApp();
  const [behind, setBehind] = createSignal(false);
  createLayoutGuard(behind);
  return (
    <Show
      when={behind()}
      fallback={
        <>
          {props.picture}
          <div class="choice-row">
            <Touch onAct={() => setBehind(true)}>{w('across.tables')}</Touch>
          </div>
        </>
      }
    >
      <Behind title={w('across.tables-title')} close={w('across.to-picture')} onClose={() => setBehind(false)}>
        {props.children}
      </Behind>
    </Show>
  );
}

/** Counts in words; zeros are left out. */
const listed = (counts: Readonly<Record<string, number>>, word: (key: string) => string) =>
  Object.entries(counts)
    .filter(([, count]) => count > 0)
    .map(([key, count]) => `${word(key)} ${count}`)
    .join(', ') || '–';

/** Holds, how they were answered, and the outcomes after those that were passed. */
export function Holds(props: { report: Report }) {
  const { w, content } = useApp();
  const ofCase = (hold: string) => content().holds.find(({ id }) => id === hold)?.of === 'case';
  return (
    <>
      <Grid
        caption={w('across.page.holds')}
        head={[w('across.hold'), w('across.answers'), w('across.passed'), w('across.next'), w('across.fate')]}
        rows={props.report.holds.map((row) => {
          const { hold: id } = row;
          return [
            capital(wordsOfAny(content(), 'holds', id)?.label ?? id),
            listed(row.answers, (key) => w(`across.answer.${key}`)),
            row.passed.times,
            // No move can follow once the case is closing: a count of none would mean nothing there.
            listed(ofCase(id) ? { ...row.passed.next, nothing: 0 } : row.passed.next, (key) => w(`across.next.${key}`)),
            listed(row.passed.fate, (key) => w(`across.fate.${key}`)),
          ];
        })}
        none={w('across.none-holds')}
      />
      <p class="small soft">{w('across.holds-rules')}</p>
    </>
  );
}

/** What was released, what was counted here, and both together. */
export function Rates(props: { rates: readonly UpdatedRate[]; moved: readonly MovedRate[] }) {
  const { w, content } = useApp();
  return (
    <>
      <Moved moved={props.moved} />
      <Grid
        caption={w('across.page.rates')}
        head={[w('across.move'), w('across.ended'), w('across.released'), w('across.here'), w('across.together')]}
        rows={props.rates.map((rate) => [
          `${capital(wordsOfAny(content(), 'moves', rate.move)?.glance ?? rate.move)}${rateKind(w, rate.when)}`,
          wordsOfAny(content(), 'outcomes', rate.outcome)?.glance ?? rate.outcome,
          `${percent(rate.released)} ${w(`status.${rate.status}`)}`,
          rate.of === 0 ? '–' : w('across.of', { count: rate.count, of: rate.of }),
          rate.of === 0 ? '–' : percent(rate.value),
        ])}
        none=""
      />
      <p class="small soft">{w('across.rates-rules', { weight: mostOfMemory })}</p>
    </>
  );
}
