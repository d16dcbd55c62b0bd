import { For, Show } from 'solid-js';
import { verdictOf, type Readiness } from '../../../machines/readiness.ts';
import type { ToolId } from '../../../content/ids.ts';
import type { Unknown } from '../../../machines/ways.ts';
import { listed, ranges } from '../../format/lists.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { unknownWord } from '../unknown-words.ts';
import type { Aim } from './step.ts';
import { opensOf, toMeasure } from './tool-groups.ts';
import { deadEndWords, unsaidWords } from './tool-words.ts';

/** As many touches as stand in a row; the rest is under Tools. */
const most = 4;

/** The worst that can be said of the room, in one line, and a touch for each thing to bring or to look at first. */
export function Worst(props: { ready: Readiness | null; onAim: (aim: Aim) => void }) {
  const app = useApp();
  const { w } = app;
  const noWayPast = () => props.ready?.doNotStart.find(({ reason }) => reason === 'no-way-past');
  const line = () => {
    const stuck = noWayPast();
    if (!stuck) return [...deadEndWords(app, props.ready), ...unsaidWords(app, props.ready)][0];
    const tools = listed(stuck.missing.map((id) => app.content().phrases.tools[id].label));
    return w('briefing.no-way-past-text', { tools });
  };
  const bring = () =>
    (props.ready?.bring ?? []).map((tool) => ({
      label: w('briefing.bring-tool', { tool: app.content().phrases.tools[tool].label }),
      note: opens(tool),
      aim: (): Aim => ({ tool }),
    }));
  const opens = (tool: ToolId) => {
    const screws = new Set(opensOf(props.ready, tool).flatMap((one) => one.screws));
    return screws.size > 0
      ? w('briefing.opens-for', {
          screws: ranges([...(app.open()?.folded.screws.keys() ?? [])].filter((id) => screws.has(id))),
        })
      : w('briefing.bring-this');
  };
  const look = () =>
    toMeasure(props.ready).flatMap(({ unknown, screws }) => {
      const aim = aimOf(unknown, screws);
      return aim
        ? [
            {
              label: w('briefing.say', { what: unknownWord(app, unknown) }),
              note: w('briefing.unsaid-for', { screws: ranges(screws) }),
              aim: () => aim,
            },
          ]
        : [];
    });
  return (
    <section class="worst" aria-label={w('briefing.worst')}>
      <Show when={props.ready} fallback={<p>{w('briefing.room-unknown')}</p>}>
        {(ready) => (
          <>
            <h2 class="verdict" data-verdict={verdictOf(ready())}>
              {noWayPast() ? w('briefing.no-way-past') : w(`briefing.verdict.${verdictOf(ready())}`)}
            </h2>
            <Show when={line()}>
              <p>{line()}</p>
            </Show>
            <Show when={bring().length + look().length > 0}>
              <div class="worst-ways">
                <For each={[...bring(), ...look()].slice(0, most)}>
                  {(way) => (
                    <Touch size="card" onAct={() => props.onAim(way.aim())}>
                      <span>{way.label}</span>
                      <small>{way.note}</small>
                    </Touch>
                  )}
                </For>
              </div>
            </Show>
          </>
        )}
      </Show>
    </section>
  );
}

/** Where something that is not known is said: at a tool, or at the first screw that it concerns. */
function aimOf(unknown: Unknown, [screw]: readonly string[]): Aim | null {
  if (unknown.startsWith('tool:')) return { tool: unknown.slice('tool:'.length) as ToolId };
  if (screw === undefined || unknown === 'plate') return null;
  return { screw, ask: unknown === 'diameter' ? 'size' : 'drive' };
}
