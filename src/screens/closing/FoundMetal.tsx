import { For } from 'solid-js';
import { partKinds, type PartKind } from '../../../content/ids.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import type { Recorder } from './recorder.ts';

/** Metal that no list told of, found at the table: it is listed by its kind, and then accounted for like any other. */
export function FoundMetal(props: { recorder: Recorder; onClose: () => void }) {
  const app = useApp();
  const { w } = app;
  const kinds = () => {
    const own = app.open()?.folded.case.context.room.opened?.construct;
    return partKinds.filter((kind) => kind !== 'foil' && kind !== own);
  };
  /** The first number of this kind that is free. */
  const nextId = (kind: PartKind) => {
    const known = app.open()?.folded.case.context.parts;
    let number = 1;
    while (known?.has(`${kind}-${number}`)) number++;
    return `${kind}-${number}`;
  };
  const list = async (kind: PartKind) => {
    if (await props.recorder.record({ type: 'part-listed', part: nextId(kind), kind })) props.onClose();
  };
  return (
    <Sheet title={w('closing.other-metal')} close={w('closing.back')} onClose={() => props.onClose()}>
      <div class="choice-row">
        <For each={kinds()}>{(kind) => <Touch onAct={() => void list(kind)}>{w(`part.${kind}`)}</Touch>}</For>
      </div>
    </Sheet>
  );
}
