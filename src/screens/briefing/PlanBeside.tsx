import { For, Show, createMemo } from 'solid-js';
import type { Readiness } from '../../../machines/readiness.ts';
import { isPlateOn } from '../../../machines/case.context.ts';
import { PlanPicture, TagSign, type PlanScrew, type PlanTag } from '../../pictures/PlanPicture.tsx';
import type { PlanBone } from '../../pictures/plan-shape.ts';
import { figure } from '../../format/figures.ts';
import { useApp } from '../app.ts';
import { createRoomOf } from '../size.ts';
import { missingOf, tagOf } from './plan-tags.ts';

/** Width of the drawing beside the numbers and sizes, mm. */
const drawingMm = 18;

/** The plan in one picture, beside whatever is being asked. */
export function PlanBeside(props: { ready: Readiness | null; called: string | null; narrow: boolean }) {
  const app = useApp();
  const { w } = app;
  const { room: given, ref } = createRoomOf(app, { width: 60, height: 100 });
  const context = () => app.open()?.folded.case.context;
  const bones = () => {
    const { bone = null, boneAt = {} } = context()?.room ?? {};
    const drawn = (found: typeof bone | undefined): PlanBone =>
      found ? { outer: found.outer, cortex: found.cortex, assumed: found.source === 'assumed' } : null;
    return { whole: drawn(bone), at: (screw: string) => drawn(boneAt[screw] ?? bone) };
  };
  const screws = createMemo<PlanScrew[]>(() =>
    [...(app.open()?.folded.screws.values() ?? [])].map(({ context: screw }) => {
      const { diameter, length } = screw.facts;
      const mm = (one: number | null) => (one === null ? w('briefing.no-figure') : figure(one));
      return {
        id: screw.id,
        stage: screw.stage,
        diameter,
        length,
        cortices: screw.facts.assumed?.includes('cortices') ? null : screw.facts.cortices,
        word:
          screw.stage === 'seated'
            ? w('briefing.map-word', { diameter: mm(diameter), length: mm(length) })
            : app.content().phrases.stages[screw.stage].glance,
        open: missingOf(screw).length > 0,
        bone: bones().at(screw.id),
        tag: tagOf(app, props.ready, screw),
      };
    }),
  );
  /** What the signs stand for, of those that are drawn. */
  const keys = () =>
    (
      [
        ['dead', w('briefing.tag.dead')],
        ['unsaid', w('briefing.tag.unsaid')],
        ['missing', w('briefing.tag.missing')],
      ] as const satisfies (readonly [PlanTag['kind'], string])[]
    ).filter(([kind]) => screws().some(({ tag }) => tag?.kind === kind));
  const room = () => context()?.room;
  return (
    <aside class="plan" aria-label={w('briefing.plan')}>
      <div class="plan-room" ref={ref}>
        <PlanPicture
          construct={room()?.opened?.construct ?? 'screws'}
          plateOff={room() ? !isPlateOn(room()!) : true}
          bone={bones().whole}
          screws={screws()}
          called={props.called}
          height={given().height}
          width={drawingMm}
          label={w('briefing.map-label', { count: screws().length })}
          known={props.ready !== null || screws().length === 0}
          narrow={props.narrow}
          none={w('briefing.none-listed')}
        />
      </div>
      <Show when={keys().length > 0}>
        <ul class="plan-keys small">
          <For each={keys()}>
            {([kind, word]) => (
              <li>
                <TagSign kind={kind} /> {word}
              </li>
            )}
          </For>
        </ul>
      </Show>
    </aside>
  );
}
