import { For, Show, createSignal } from 'solid-js';
import type { Closes } from '../../../machines/across/buy.ts';
import type { NextTool as Found } from '../../../machines/across/lessons.ts';
import { figure } from '../../format/figures.ts';
import { capital } from '../../format/prose.ts';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import { unknownWord } from '../unknown-words.ts';
import type { Unknown } from '../../../machines/ways.ts';
import { Bar } from './Bar.tsx';
import { Behind } from './Behind.tsx';
import { Grid } from './Grid.tsx';
import { itemWords } from './item-words.ts';

const times = (weight: number) => figure(weight < 10 ? weight.toFixed(1) : weight.toFixed(0));

/** Which tool, in which size, would close most of the dead ends of all plans; each step with a bar of what it closes. */
export function NextTool(props: { found: Found }) {
  const app = useApp();
  const { w } = app;
  const [behind, setBehind] = createSignal(false);
  createLayoutGuard(behind);
  const all = () => props.found.deadEnds;
  const share = (weight: number) => (all().weight > 0 ? weight / all().weight : 0);
  const closes = ({ deadEnds, weight }: Closes) => w('across.closes', { deadEnds, times: times(weight) });
  const names = (tools: Found['buy'][number]['tools']) => capital(tools.map((one) => itemWords(app, one)).join(' + '));
  return (
    <Show
      when={behind()}
      fallback={
        <>
          <p>
            <b>{w('across.dead-ends-sum', { deadEnds: all().deadEnds, times: times(all().weight) })}</b>{' '}
            {w('across.cannot-say-sum', { count: props.found.cannotSay.deadEnds })}
          </p>
          <Show when={props.found.buy.length > 0} fallback={<p>{w('across.none-to-buy')}</p>}>
            <ol class="across-bars">
              <For each={props.found.buy}>
                {(step) => (
                  <li class="across-bar-row">
                    <b>{names(step.tools)}</b>
                    <Bar parts={[{ share: share(step.weight) }]} label={closes(step)} />
                    <span class="figure">{closes(step)}</span>
                  </li>
                )}
              </For>
            </ol>
          </Show>
          <p class="small">{w('across.buy-key')}</p>
          <Touch onAct={() => setBehind(true)}>{w('across.tables')}</Touch>
        </>
      }
    >
      <Behind title={w('across.buy-title')} close={w('across.to-picture')} onClose={() => setBehind(false)}>
        <div class="across-behind">
          <Grid
            caption={w('across.buy-steps')}
            head={[w('across.tool'), w('across.dead-ends'), w('across.to-expect'), w('across.with-before')]}
            rows={props.found.buy.map((step) => [
              names(step.tools),
              step.deadEnds,
              times(step.weight),
              w('across.of', { count: step.sum.deadEnds, of: all().deadEnds }),
            ])}
            none={w('across.none-to-buy')}
          />
          <Grid
            caption={w('across.alone')}
            head={[w('across.tool'), w('across.dead-ends'), w('across.to-expect')]}
            rows={props.found.alone.map((one) => [capital(itemWords(app, one)), one.deadEnds, times(one.weight)])}
            none={w('across.none-alone')}
          />
          <Grid
            caption={w('across.cannot-say')}
            head={[w('across.unknown'), w('across.stages')]}
            rows={Object.entries(props.found.cannotSay.unknown).map(([what, count]) => [
              capital(unknownWord(app, what as Unknown)),
              count,
            ])}
            none={w('across.none-unsaid')}
          />
          <p>{w('across.no-tool', { count: props.found.closed.deadEnds })}</p>
          <p class="small soft">{w('across.buy-rules')}</p>
        </div>
      </Behind>
    </Show>
  );
}
