import { For, Show, createSignal } from 'solid-js';
import type { ToolId } from '../../../content/ids.ts';
import type { RoomTool } from '../../../machines/case.context.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { figure } from '../../format/figures.ts';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import { diametersIn } from './plan.ts';
import type { StepProps } from './step.ts';
import { ofKind } from './tool-groups.ts';
import { measuresOf } from './tool-words.ts';

type ToolDraft = Extract<EntryDraft, { type: 'tool-in-room' }>;

const same = (a: readonly number[] | undefined, b: readonly number[]) =>
  a?.length === b.length && a.every((x, i) => x === b[i]);

/** Which sizes of one tool are in the room: for which screws of the plan, of which driver size, how wide. */
export function ToolMeasures(props: { tool: ToolId; put: StepProps['put'] }) {
  const app = useApp();
  const { w } = app;
  const [page, setPage] = createSignal<'sizes' | 'inner' | 'outer'>('sizes');
  const [inner, setInner] = createSignal<number | null>(null);
  createLayoutGuard(() => page());
  const present = () => ofKind(app.open()?.folded.case.context.room.tools ?? [], props.tool);
  const measures = () => app.content().tools.find(({ id }) => id === props.tool)?.measures ?? [];
  const plan = () => (app.open() ? diametersIn(app.open()!.folded) : []);
  const draft = (more: Partial<ToolDraft>): ToolDraft => ({
    type: 'tool-in-room',
    tool: props.tool,
    present: true,
    ...more,
  });
  const withMeasures = (present: boolean, { fits, size, outer, inner }: RoomTool): ToolDraft =>
    draft({
      present,
      ...(fits && { fits: [...fits] }),
      ...(size !== undefined && { size }),
      ...(outer !== undefined && { outer }),
      ...(inner !== undefined && { inner }),
    });
  const isBare = ({ fits, size, outer, inner }: RoomTool) =>
    [fits, size, outer, inner].every((measure) => measure === undefined);
  const unmeasured = () => present().find(isBare);
  /** Taking away one without measures takes away all of its kind: the others are brought back in. */
  const takeAway = (tool: RoomTool): ToolDraft[] => [
    withMeasures(false, tool),
    ...(isBare(tool) ? present().filter((other) => !isBare(other)) : []).map((other) => withMeasures(true, other)),
  ];
  const toggle = (found: RoomTool | undefined, more: Partial<ToolDraft>) =>
    void props.put(...(found ? takeAway(found) : [draft(more)]));

  /** Sizes of the drivers that this plan's screws ask for, then the others of that form. */
  const driverSizes = () => {
    const form = props.tool.replace('driver-', '');
    const planned = [...(app.open()?.folded.screws.values() ?? [])].flatMap(({ context: { facts } }) =>
      facts.drive === form && facts.driveSize !== undefined ? [facts.driveSize] : [],
    );
    const all = app
      .content()
      .recesses.filter(({ drive }) => drive === form)
      .map(({ size }) => size);
    const known = present().flatMap(({ size }) => size ?? []);
    return [...new Set([...planned, ...all, ...known])].map((size) => ({ size, planned: planned.includes(size) }));
  };
  const diameters = () =>
    [...new Set([...plan(), ...present().flatMap(({ fits }) => (fits?.length === 1 ? fits : []))])].sort(
      (a, b) => a - b,
    );
  const padWords = (min: number, max: number) => ({
    done: w('briefing.done'),
    back: w('briefing.rub-out'),
    unknown: w('briefing.not-known'),
    range: w('briefing.range', { min, max }),
  });
  const takeReamer = async (outer: number | null) => {
    const within = inner();
    await props.put(draft({ ...(within !== null && { inner: within }), ...(outer !== null && { outer }) }));
    setPage('sizes');
  };

  return (
    <div class="question">
      <Show
        when={page() === 'sizes'}
        fallback={
          <Show
            when={page() === 'inner'}
            fallback={
              <NumberPad
                label={w('briefing.reamer-outer')}
                unit={w('briefing.mm')}
                value={null}
                min={1}
                max={20}
                words={padWords(1, 20)}
                onDone={(mm) => void takeReamer(mm)}
              />
            }
          >
            <NumberPad
              label={w('briefing.reamer-inner')}
              unit={w('briefing.mm')}
              value={null}
              min={1}
              max={18}
              words={padWords(1, 18)}
              onDone={(mm) => {
                setInner(mm);
                setPage('outer');
              }}
            />
          </Show>
        }
      >
        <Show when={measures().includes('size')}>
          <p class="small soft">{w('briefing.which-sizes')}</p>
          <div class="choice-row">
            <For each={driverSizes()}>
              {({ size, planned }) => {
                const found = () => present().find((tool) => tool.size === size);
                return (
                  <Touch pressed={found() !== undefined} onAct={() => toggle(found(), { size })}>
                    <span>{figure(size)}</span>
                    <Show when={planned}>
                      <small>{w('briefing.in-plan')}</small>
                    </Show>
                  </Touch>
                );
              }}
            </For>
          </div>
        </Show>
        <Show when={measures().includes('fits')}>
          <p class="small soft">{plan().length > 0 ? w('briefing.which-screws') : w('briefing.no-screws-yet')}</p>
          <div class="choice-row">
            <For each={diameters()}>
              {(diameter) => {
                const found = () => present().find(({ fits }) => same(fits, [diameter]));
                return (
                  <Touch pressed={found() !== undefined} onAct={() => toggle(found(), { fits: [diameter] })}>
                    {w('briefing.for-screw', { diameter })}
                  </Touch>
                );
              }}
            </For>
          </div>
        </Show>
        <div class="choice-row">
          <Show when={measures().includes('inner')}>
            <Touch onAct={() => setPage('inner')}>{w('briefing.reamer-by-measure')}</Touch>
          </Show>
          <Touch pressed={unmeasured() !== undefined} onAct={() => toggle(unmeasured(), {})}>
            <span>{w('briefing.size-not-known')}</span>
            <small>{w('briefing.size-not-known-note')}</small>
          </Touch>
        </div>
        <Show when={present().length > 0}>
          <p class="small soft">{w('briefing.in-room-now')}</p>
          <div class="choice-row">
            <For each={present()}>
              {(tool) => (
                <Touch onAct={() => void props.put(...takeAway(tool))}>
                  <span>{measuresOf(app, tool) || w('briefing.no-size')}</span>
                  <small>{w('briefing.take-away')}</small>
                </Touch>
              )}
            </For>
          </div>
        </Show>
      </Show>
    </div>
  );
}
