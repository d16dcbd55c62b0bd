import { For, createSignal } from 'solid-js';
import { Choice } from '../../parts/Choice.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { fragmentPlace } from '../../../machines/compute/fragment.ts';
import { boneAt } from '../../../machines/compute/bone-cost.ts';
import type { Table } from './state.ts';

const reasons = ['bone', 'deep', 'tools', 'time', 'harmless', 'patient'] as const;
const places = ['near', 'through', 'far'] as const;

/** Leaving a screw in is a decision: why and where, one touch each, then recorded. What else is known can follow. */
export function LeaveSheet(props: { table: Table }) {
  const { w, content, open } = props.table.app;
  const [where, setWhere] = createSignal<string | null>(null);
  const [typed, setTyped] = createSignal('');
  const [image, setImage] = createSignal<boolean | null>(null);
  /** An estimate: the listed length less what came out. */
  const rest = () => {
    const screw = props.table.context();
    const room = open()?.folded.case.context.room;
    const bone = screw && room ? boneAt(content(), room, screw.id) : null;
    if (!screw || !bone) return null;
    const place = fragmentPlace({
      length: screw.facts.length,
      nearSurface: screw.found.nearSurface ?? 0,
      recovered: screw.pieces.reduce((sum, piece) => sum + piece, 0),
      outer: bone.outer,
      cortex: bone.cortex,
    });
    return screw.found.fragmentLength ?? place?.left ?? null;
  };
  const leave = async (reason: string) => {
    const screw = props.table.called();
    if (screw === null) return;
    const result = await props.table.record({
      type: 'left-in',
      screw,
      length: rest(),
      where: where() ?? w('leave.where-unsaid'),
      reason,
      ...(image() !== null && { imageTaken: image() === true }),
      decidedBy: w('role.surgeon'),
      calledBy: 'surgeon',
      loggedBy: 'circulating',
    });
    if (result.ok) props.table.home();
  };
  return (
    <Sheet
      title={w('leave.title', { screw: props.table.called() ?? '' })}
      close={w('table.back')}
      onClose={() => props.table.home()}
    >
      <Choice
        label={w('leave.where')}
        options={places.map((place) => ({ value: w(`leave.place.${place}`), label: w(`leave.place.${place}`) }))}
        value={where()}
        onChoose={setWhere}
      />
      <Choice
        label={w('leave.image')}
        options={[
          { value: true, label: w('leave.image-yes') },
          { value: false, label: w('leave.image-no') },
        ]}
        value={image()}
        onChoose={setImage}
      />
      <div class="choice" role="group" aria-label={w('leave.why')}>
        <span class="choice-label">{w('leave.why')}</span>
        <div class="choice-row">
          <For each={reasons}>
            {(reason) => (
              <Touch onAct={() => void leave(w(`leave.reason.${reason}`))}>{w(`leave.reason.${reason}`)}</Touch>
            )}
          </For>
        </div>
      </div>
      <TextEntry label={w('leave.other')} value={typed()} onInput={setTyped} />
      <Touch onAct={() => void leave(typed().trim())} closed={typed().trim() === '' ? w('leave.no-words') : undefined}>
        {w('leave.record')}
      </Touch>
    </Sheet>
  );
}
