import { For, Show, createMemo, createSignal } from 'solid-js';
import { Band } from '../../parts/Band.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import { ContentLine } from '../department/ContentLine.tsx';
import { PlanSheet, PlanWays, PlanWords, type PlanPage } from './PlanSheet.tsx';
import { assumedWords } from './assumed-words.ts';
import { drillQuestion } from './drill.ts';
import { gapsOf } from './plan.ts';
import { listed, ranges } from '../../format/lists.ts';
import type { StepProps } from './step.ts';
import { CurveNow } from '../forecast/later.ts';
import { Worst } from './Worst.tsx';
import { closesWords, deadEndWords, heldWords, measureWords, unsaidWords } from './tool-words.ts';

/**
 * Is the room ready, and what was left out? Dead ends in words, the fewest tools that open them, everything not
 * recorded. Only the hold on hard metal has to be answered before the start, and with a reason it can be passed.
 */
export function Start(props: StepProps) {
  const app = useApp();
  const { w } = app;
  const [page, setPage] = createSignal<PlanPage | null>(null);
  const [going, setGoing] = createSignal(false);
  const phrases = () => app.content().phrases;
  const { asked, stopped, passed } = drillQuestion(app, props);
  createLayoutGuard(() => `${asked()} ${going()} ${page()}`);
  const tools = (ids: readonly (keyof ReturnType<typeof phrases>['tools'])[]) =>
    listed(ids.map((id) => phrases().tools[id].label));
  const reasons = () => app.content().holds.find(({ id }) => id === 'hard-metal')?.reasons ?? [];
  const gaps = () => {
    const open = app.open();
    return open ? gapsOf(open) : [];
  };
  /** What an absent tool closes where the team may not think of it: it would be said at the table else, and too late. */
  const absent = createMemo(() => {
    const open = app.open();
    if (!open) return [];
    const closes = closesWords(app, open.folded);
    return (['t-handle', 'irrigation', 'reversing-drive', 'image-intensifier'] as const).flatMap((tool) => {
      const words = closes.get(tool);
      return words ? [w('briefing.without', { tool: phrases().tools[tool].label, closes: words })] : [];
    });
  });
  const stop = () => props.put({ type: 'hold-answered', hold: 'hard-metal', answer: 'stop' });
  const goOn = async (reason: string) => {
    if (await props.put({ type: 'hold-answered', hold: 'hard-metal', answer: 'go-on', reason })) setGoing(false);
  };

  return (
    <Show
      when={page() === null}
      fallback={
        <PlanSheet page={page() ?? 'brief'} put={props.put} ready={props.ready} onClose={() => setPage(null)} />
      }
    >
      <div class="start">
        <Show when={asked()}>
          <Band
            kind="hold"
            title={phrases().holds['hard-metal'].label}
            text={stopped() ? w('briefing.answered-stop') : phrases().holds['hard-metal'].help}
          >
            <Show
              when={going()}
              fallback={
                <>
                  <Touch onAct={() => void stop()} closed={stopped() ? w('briefing.stop-noted') : undefined}>
                    {w('briefing.do-not-start')}
                  </Touch>
                  <Touch onAct={() => setGoing(true)}>{w('briefing.go-on-all-the-same')}</Touch>
                </>
              }
            >
              <For each={reasons()}>{(reason) => <Touch onAct={() => void goOn(reason)}>{reason}</Touch>}</For>
              <Touch onAct={() => setGoing(false)}>{w('briefing.back')}</Touch>
            </Show>
          </Band>
        </Show>
        <Show when={passed()}>
          <Band kind="notice" title={phrases().holds['hard-metal'].label} text={w('briefing.going-on-noted')} />
        </Show>
        <Worst ready={props.ready()} onAim={(aim) => props.onAim(aim)} />
        <CurveNow />
        <PlanWays onOpen={setPage} onRehearse={() => props.rehearse()} />

        <div class="start-columns">
          <section aria-label={w('briefing.room')}>
            <h2>{w('briefing.room')}</h2>
            <Show when={props.ready()}>
              {(ready) => (
                <>
                  <Show when={ready().bring.length > 0}>
                    <p>
                      <b>{w('briefing.bring')}</b> {tools(ready().bring)}
                    </p>
                  </Show>
                  <ul class="dead-ends">
                    <For each={[...deadEndWords(app, ready()), ...heldWords(app, ready())]}>
                      {(line) => <li>{line}</li>}
                    </For>
                  </ul>
                  <Show when={ready().cannotSay.length > 0}>
                    <p>
                      <b>{w('briefing.measure')}</b>
                    </p>
                    <ul class="dead-ends">
                      <For each={[...measureWords(app, ready()), ...unsaidWords(app, ready())]}>
                        {(line) => <li>{line}</li>}
                      </For>
                    </ul>
                  </Show>
                  <Show when={absent().length > 0}>
                    <p class="soft">{w('briefing.absent')}</p>
                    <ul class="dead-ends">
                      <For each={absent()}>{(line) => <li>{line}</li>}</For>
                    </ul>
                  </Show>
                  <Show when={ready().consentOpen.length > 0}>
                    <p>
                      {w('briefing.consent-open-list', {
                        points: listed(ready().consentOpen.map((point) => phrases().consent[point].label)),
                      })}
                    </p>
                  </Show>
                  <Show when={ready().assumed.length > 0}>
                    <p class="soft">
                      {w('briefing.assumed-list', { what: listed(assumedWords(app, ready().assumed)) })}
                    </p>
                  </Show>
                </>
              )}
            </Show>
          </section>
          <section aria-label={w('briefing.gaps')}>
            <h2>{w('briefing.gaps')}</h2>
            <ul class="gaps">
              <For each={gaps()} fallback={<li>{w('briefing.no-gaps')}</li>}>
                {({ key, screws }) => <li>{screws.length > 0 ? w(key, { screws: ranges(screws) }) : w(key)}</li>}
              </For>
            </ul>
          </section>
        </div>

        <PlanWords />

        <ContentLine policy />
      </div>
    </Show>
  );
}
