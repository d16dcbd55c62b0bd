import { For, Show } from 'solid-js';
import { millimetres } from '../../format/figures.ts';
import { StillIn } from '../../pictures/StillIn.tsx';
import type { CaseRecord } from '../../record/model.ts';
import { useApp } from '../app.ts';
import { drawingOf } from './record-of.ts';

/** Every piece that stayed in its bone, drawn to scale; one that cannot be drawn says why. */
export function StillInDrawings(props: { record: CaseRecord }) {
  const app = useApp();
  const { w } = app;
  return (
    <div class="still-in-all">
      <For each={props.record.facts.stillIn}>
        {(piece) => {
          const drawing = () => {
            const open = app.open();
            return open ? drawingOf(open, props.record, piece) : null;
          };
          return (
            <Show when={drawing()} fallback={<p class="small">{w('record.not-drawn', { what: piece.what })}</p>}>
              {(one) => (
                <StillIn
                  {...one()}
                  label={w('record.drawing', {
                    what: piece.what,
                    side: props.record.facts.side,
                    bone: props.record.facts.bone,
                  })}
                  notes={[
                    w('record.drawing-piece', { screw: piece.screw ?? '', size: piece.size }),
                    w(one().bone.assumed ? 'record.drawing-assumed' : 'record.drawing-bone', {
                      outer: millimetres(one().bone.outer),
                      cortex: millimetres(one().bone.cortex),
                    }),
                    w('record.drawing-estimate'),
                  ]}
                  bar={w('record.drawing-bar')}
                />
              )}
            </Show>
          );
        }}
      </For>
    </div>
  );
}
