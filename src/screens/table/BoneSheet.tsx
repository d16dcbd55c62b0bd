import { For, Show, createMemo, untrack } from 'solid-js';
import { boneAt, ownHole, sectionOf } from '../../../machines/compute/bone-cost.ts';
import { percent } from '../../format/figures.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { BoneStrip } from '../../pictures/BoneStrip.tsx';
import { useApp } from '../app.ts';
import { limitWords, sourceWords } from '../source-words.ts';
import { Section, createLevel } from './Pictures.tsx';
import type { Table } from './state.ts';

/** The bone picture in full: section with its marks and bands, and every level along the bone. */
export function BoneSheet(props: { table: Table }) {
  const app = useApp();
  const { w, open, content, view } = app;
  const level = createLevel(untrack(() => props.table));
  /** By the second ladder nothing is drawn of a level that is not modelled: the bone broke, or a joint is near. */
  const modelled = () => view()?.bone;
  const levels = createMemo(() => {
    const folded = open()?.folded;
    if (!folded) return [];
    return [...folded.screws.values()].map(({ context: screw }) => {
      const told = modelled()?.levels[screw.id];
      if (told) return { screw: screw.id, lost: told.cortexLost };
      const bone = boneAt(folded.content, folded.case.context.room, screw.id);
      const { diameter } = screw.facts;
      const section =
        bone && diameter !== null
          ? sectionOf(folded.content, bone, [ownHole({ ...screw.facts, diameter }), ...screw.bores])
          : null;
      return { screw: screw.id, lost: section?.cortexLost ?? null };
    });
  });
  const limits = () => {
    const now = open()?.folded.case.context.room.limits;
    const { boneConsider, boneStop } = content().limits;
    return { consider: now?.boneConsider ?? boneConsider.value, stop: now?.boneStop ?? boneStop.value };
  };
  /** The two limits by themselves where one of them is the department's own or was set for this case. */
  const limitsRestOn = () => {
    const [consider, stop] = [limitWords(app, 'boneConsider'), limitWords(app, 'boneStop')];
    return consider === stop
      ? consider
      : `${percent(limits().consider)}, ${consider}; ${percent(limits().stop)}, ${stop}`;
  };
  return (
    <Sheet title={w('more.bone')} close={w('table.back')} onClose={() => props.table.home()}>
      <div class="bone-full">
        <Show when={level()}>{(at) => <Section table={props.table} level={at()} label="" plain={false} />}</Show>
        <BoneStrip
          levels={levels()}
          called={props.table.called()}
          limits={limits()}
          limit={w('pictures.limit')}
          label={w('pictures.strip')}
        />
      </div>
      <For each={modelled()?.openingsAsked ?? []}>
        {(screw) => (
          <Choice
            label={w('pictures.openings-meet', { screw })}
            options={[
              { value: true, label: w('word.yes') },
              { value: false, label: w('word.no') },
            ]}
            value={null}
            onChoose={(openingsMeet) => void props.table.record({ type: 'found', screw, openingsMeet })}
          />
        )}
      </For>
      <p>
        <small class="soft">
          {w('pictures.basis', {
            torsion: sourceWords(app, content().limits.torsionRate.source),
            limits: limitsRestOn(),
          })}
        </small>
      </p>
    </Sheet>
  );
}
