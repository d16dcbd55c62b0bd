import { For, Show } from 'solid-js';
import { millimetres } from '../../format/figures.ts';
import { StillIn } from '../../pictures/StillIn.tsx';
import type { CaseRecord, StillIn as Piece } from '../../record/model.ts';
import { useApp } from '../app.ts';
import { drawingOf, type Drawing } from './record-of.ts';

interface Drawn {
  piece: Piece;
  /** The screws of which the same drawing tells. */
  screws: string[];
  drawing: Drawing | null;
}

/** Every piece that stayed in its bone, drawn to scale, those alike once; one that cannot be drawn says why. */
export function StillInDrawings(props: { record: CaseRecord }) {
  const app = useApp();
  const { w } = app;
  const drawn = (): Drawn[] => {
    const open = app.open();
    const alike = new Map<string, Drawn>();
    props.record.facts.stillIn.forEach((piece, i) => {
      const drawing = open ? drawingOf(open, props.record, piece) : null;
      const key = JSON.stringify(drawing === null ? i : [drawing, piece.size]);
      const one = alike.get(key) ?? { piece, screws: [], drawing };
      if (piece.screw !== null) one.screws.push(piece.screw);
      alike.set(key, one);
    });
    return [...alike.values()];
  };
  return (
    <div class="still-in-all">
      <For each={drawn()}>
        {({ piece, screws, drawing }) => (
          <Show when={drawing} fallback={<p class="small">{w('record.not-drawn', { what: piece.what })}</p>}>
            {(one) => (
              <StillIn
                {...one()}
                label={w('record.drawing', {
                  what: piece.what,
                  side: props.record.facts.side,
                  bone: props.record.facts.bone,
                })}
                notes={[
                  w('record.drawing-piece', { screw: screws.join(', '), size: piece.size }),
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
        )}
      </For>
    </div>
  );
}
