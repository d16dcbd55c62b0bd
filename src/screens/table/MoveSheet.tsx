import { For, Show } from 'solid-js';
import type { MoveId } from '../../../content/ids.ts';
import { candidates } from '../../../machines/compute/fit.ts';
import { meets } from '../../../machines/fitting.ts';
import { depth } from '../../../machines/screw.context.ts';
import { percent } from '../../format/figures.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { Evidence } from './Evidence.tsx';
import { figuresOf, marksOf } from './Cards.tsx';
import { countedHere } from '../across/here.ts';
import { countedWords } from '../across/words.ts';
import { acrossOf } from '../../session/across.ts';
import type { Table } from './state.ts';
import { useApp } from '../app.ts';
import { sourceWords } from '../source-words.ts';
import { ContentLine } from '../department/ContentLine.tsx';

/** All about one move: what it needs, costs, closes off; cautions and figures, each with its source and status. */
export function MoveSheet(props: { table: Table; move: MoveId }) {
  const app = useApp();
  const { w, content } = app;
  const move = () => props.table.moveOf(props.move);
  const words = () => content().phrases.moves[props.move];
  const offered = () => props.table.moves().find((other) => other.offered.move === props.move)?.offered;
  const cite = (id: string) => sourceWords(app, id);
  /** By the second ladder what a notice says in full stands here. */
  const notices = () => (props.table.isSecond() ? (props.table.screw()?.notices ?? []) : []);
  const slipped = () => {
    const now = props.table.screw();
    return now !== null && now.slips > 0 && now.chanceLeft !== null && now;
  };
  const needs = () => {
    const facts = props.table.context()?.facts;
    const tools = app.open()?.folded.case.context.room.tools ?? [];
    if (!facts) return [];
    return move().needs.flatMap((need) => {
      const here = tools.find((tool) => meets(content(), tool, need, facts));
      const tool = here?.tool ?? candidates(need, facts)[0];
      if (tool === undefined) return [];
      return [w(here ? 'about.here' : 'about.not-here', { tool: content().phrases.tools[tool].label })];
    });
  };
  /** By the second ladder a card has the first of these alone. */
  const beforeIt = () => {
    const now = offered();
    return now && props.table.isSecond() ? marksOf(props.table, now) : [];
  };
  const closesOff = () => {
    const aim = move().aim;
    if (aim !== 'head-sheared') return [];
    const stage = props.table.screw()?.stage ?? 'seated';
    return content().moves.filter(
      (other) =>
        other.id !== 'leave-in' &&
        other.fits.some((fit) => fit === stage) &&
        !other.fits.some((fit) => depth(fit) >= depth(aim)),
    );
  };
  return (
    <Sheet title={words().label} close={w('table.back')} onClose={() => props.table.home()}>
      <div class="about">
        <p>{words().help}</p>
        <p class="about-say">{w('table.say', { line: words().say })}</p>
        <For each={notices()}>
          {(notice) => (
            <p>
              <b>{content().phrases.holds[notice].label}</b> {content().phrases.holds[notice].help}{' '}
              <small class="soft">{cite(content().holds.find(({ id }) => id === notice)?.source ?? '')}</small>
            </p>
          )}
        </For>
        <Show when={offered()}>
          {(now) => (
            <p>
              <For each={figuresOf(app, now(), true)}>
                {(figure) => (
                  <span>
                    {figure.label} {figure.before ? w('about.from', { before: figure.before }) : ''}{' '}
                    <b>{figure.after}</b>
                    {'. '}
                  </span>
                )}
              </For>
              <Show when={now().torsionKept !== null}>
                {w(now().torsionTested ? 'about.torsion' : 'about.torsion-untested', {
                  share: Math.round((now().torsionKept ?? 0) * 100),
                })}{' '}
              </Show>
              <small class="soft">
                {w('about.estimates')} {cite(content().limits.torsionRate.source)}
              </small>
            </p>
          )}
        </Show>
        <Show when={beforeIt().length}>
          <p>
            <b>{w('about.before')}</b> {beforeIt().join('; ')}
          </p>
          <Evidence holds={offered()?.holds ?? []} />
        </Show>
        <Show when={slipped()}>
          {(now) => (
            <p>
              {w('table.slips', { count: now().slips, share: Math.round((now().chanceLeft ?? 0) * 100) })}.{' '}
              <Show when={props.table.isSecond()}>{w('slip-line')} </Show>
              <small class="soft">{cite(content().limits.slipKeeps.source)}</small>
            </p>
          )}
        </Show>
        <Show when={slipped()}>
          <Evidence holds={['reassess']} />
        </Show>
        <Show when={countedHere(app, props.move, props.table.screw()?.stage)}>
          {(here) => (
            <p>
              {w('across.about-card', {
                count: here().count,
                of: here().of,
                low: percent(here().low),
                high: percent(here().high),
                cases: countedWords(w, acrossOf(app.session).numbers()?.report.cases.counted ?? 0),
              })}
            </p>
          )}
        </Show>
        <p>
          <b>{w('about.needs')}</b> {needs().join('; ') || w('about.no-tools')}
        </p>
        <Show when={closesOff().length}>
          <p>
            <b>{w('about.closes')}</b>{' '}
            {closesOff()
              .map((other) => content().phrases.moves[other.id].glance)
              .join(', ')}
          </p>
        </Show>
        <ul>
          <For each={move().cautions}>
            {(caution) => (
              <li>
                <b>{caution.text}.</b> <small class="soft">{cite(caution.source)}</small>
              </li>
            )}
          </For>
          <For each={move().evidence}>
            {(row) => (
              <li>
                {row.text}. <small class="soft">{cite(row.source)}</small>
              </li>
            )}
          </For>
        </ul>
        <p>
          <small class="soft">
            {content().orderStatus} {cite(move().source)}
          </small>
        </p>
        <ContentLine policy />
      </div>
      <Show when={offered()}>
        <Touch onAct={() => void props.table.start(props.move)}>{w('about.start', { move: words().glance })}</Touch>
      </Show>
    </Sheet>
  );
}
