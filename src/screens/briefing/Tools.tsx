import { For, Show, createMemo, createSignal, onMount, untrack } from 'solid-js';
import type { ToolId } from '../../../content/ids.ts';
import type { Tool } from '../../../content/types.ts';
import type { RoomTool } from '../../../machines/case.context.ts';
import { Mark } from '../../parts/Marks.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import { bringingIn, toolSets } from '../../session/tool-sets.ts';
import { ContentLine } from '../department/ContentLine.tsx';
import { ToolMeasures } from './ToolMeasures.tsx';
import { ToolSets } from './ToolSets.tsx';
import { listed, ranges } from '../../format/lists.ts';
import type { StepProps } from './step.ts';
import { inGroup, ofKind, opensOf, toolGroups, type ToolGroupName } from './tool-groups.ts';
import { closesWords, measureWords, measuresOf } from './tool-words.ts';

/** What is in the room, each tool with why it matters and what of this plan it opens. One touch ticks it. */
export function Tools(props: StepProps) {
  const app = useApp();
  const { w } = app;
  const aimed = untrack(() => {
    const aim = props.aim();
    return aim && 'tool' in aim ? app.content().tools.find(({ id }) => id === aim.tool) : undefined;
  });
  const [measuring, setMeasuring] = createSignal<ToolId | null>(aimed && aimed.measures.length > 0 ? aimed.id : null);
  let list: HTMLDivElement | undefined;
  // One that has no size is ticked in the list: it is brought into view, and nothing is ticked for anybody.
  onMount(() => {
    if (aimed && measuring() === null)
      list?.querySelector(`[data-tool="${aimed.id}"]`)?.scrollIntoView?.({ block: 'center' });
  });
  const [sets, setSets] = createSignal(false);
  createLayoutGuard(() => `${measuring()} ${sets()}`);
  const tools = () => app.open()?.folded.case.context.room.tools ?? [];
  const bring = () => props.ready()?.bring ?? [];
  const unsaid = () => measureWords(app, props.ready());
  const closes = createMemo(() => {
    const open = app.open();
    return open ? closesWords(app, open.folded) : undefined;
  });
  const labels = {
    drivers: w('briefing.group.drivers'),
    recess: w('briefing.group.recess'),
    grip: w('briefing.group.grip'),
    cut: w('briefing.group.cut'),
    deep: w('briefing.group.deep'),
  };
  const toggle = (tool: Tool) => {
    if (tool.measures.length > 0) setMeasuring(tool.id);
    else void props.put({ type: 'tool-in-room', tool: tool.id, present: ofKind(tools(), tool.id).length === 0 });
  };
  return (
    <Show
      when={measuring()}
      fallback={
        <Show when={!sets()} fallback={<ToolSets onClose={() => setSets(false)} />}>
          <div class="tools" ref={list}>
            <div class="choice-row">
              <For each={[...(app.content().department?.toolSets ?? []), ...toolSets().value()]}>
                {(set) => (
                  <Touch
                    onAct={() => void props.put(...bringingIn(set, tools()))}
                    closed={bringingIn(set, tools()).length === 0 ? w('plan.set-all-here') : undefined}
                  >
                    {w('plan.set-into-room', { name: set.name })}
                    <small>{w('plan.set-tools', { count: set.tools.length })}</small>
                  </Touch>
                )}
              </For>
              <Touch onAct={() => setSets(true)}>
                {w('plan.sets-more')}
                <small>{w('plan.sets-none')}</small>
              </Touch>
            </div>
            <Show when={bring().length + unsaid().length > 0}>
              <div class="tools-bring">
                <Show when={bring().length > 0}>
                  <p>
                    <b>{w('briefing.bring')}</b> {listed(bring().map((id) => app.content().phrases.tools[id].label))}
                  </p>
                </Show>
                <Show when={unsaid().length > 0}>
                  <p>
                    <b>{w('briefing.measure')}</b> {unsaid().join(' ')}
                  </p>
                </Show>
              </div>
            </Show>
            <For each={Object.keys(toolGroups) as ToolGroupName[]}>
              {(group) => (
                <section class="tool-group" aria-label={labels[group]}>
                  <h2>{labels[group]}</h2>
                  <div class="tool-cards">
                    <For each={inGroup(app.content(), group)}>
                      {(tool) => (
                        <div data-tool={tool.id}>
                          <ToolCard
                            tool={tool}
                            present={ofKind(tools(), tool.id)}
                            ready={props.ready}
                            asked={bring().includes(tool.id)}
                            closes={closes()?.get(tool.id)}
                            onAct={() => toggle(tool)}
                          />
                        </div>
                      )}
                    </For>
                  </div>
                </section>
              )}
            </For>
            <p class="small soft">{w('improvised-tools')}</p>
            <Show when={app.content().department}>
              <ContentLine policy />
            </Show>
          </div>
        </Show>
      }
    >
      {(id) => (
        <Sheet
          title={w('briefing.tool-title', { tool: app.content().phrases.tools[id()].label })}
          close={w('briefing.back')}
          onClose={() => setMeasuring(null)}
        >
          <ToolMeasures tool={id()} put={props.put} />
        </Sheet>
      )}
    </Show>
  );
}

interface ToolCardProps {
  tool: Tool;
  present: readonly RoomTool[];
  ready: StepProps['ready'];
  /** It is one of the fewest that leave no dead end. */
  asked: boolean;
  /** What its absence closes. */
  closes: string | undefined;
  onAct: () => void;
}

function ToolCard(props: ToolCardProps) {
  const app = useApp();
  const { w } = app;
  const stages = () => app.content().phrases.stages;
  const here = () => props.present.length > 0;
  return (
    <Touch size="card" class="tool-card" pressed={here()} onAct={() => props.onAct()}>
      <span>
        {app.content().phrases.tools[props.tool.id].label}{' '}
        <Mark sign={here() ? 'have' : 'lacks'} label={here() ? w('briefing.here') : w('briefing.not-here')} />
      </span>
      <For each={props.present.map((tool) => measuresOf(app, tool)).filter(Boolean)}>
        {(measures) => <small class="tool-measure">{measures}</small>}
      </For>
      <small>{props.tool.why}</small>
      <Show when={props.asked}>
        <small class="tool-asked">{w('briefing.bring-this')}</small>
      </Show>
      <Show when={props.closes}>
        <small class="tool-opens">{props.closes}</small>
      </Show>
      <For each={opensOf(props.ready(), props.tool.id)}>
        {({ stage, screws }) => (
          <small class="tool-opens">
            {w('briefing.opens', { screws: ranges(screws), stage: stages()[stage].glance })}
          </small>
        )}
      </For>
    </Touch>
  );
}
