import { For, Show, createMemo, createUniqueId } from 'solid-js';
import { Hatch } from './Hatch.tsx';
import { metalRow, rod, type LaidPiece, type MetalPiece } from './metal-row.ts';

export interface MetalRowProps {
  /** Listed length, mm; null when it is not known. */
  listed: number | null;
  /** In the order in which they are laid down. */
  pieces: readonly MetalPiece[];
  /** Of the screw, mm. */
  diameter: number;
  /** One scale for all rows that stand together: the longest row and the thickest screw, mm. */
  scale: { length: number; thickness: number };
  /** The row in words. */
  label: string;
}

/**
 * The pieces of one screw laid end to end, to scale, under the outline of the length that was listed: open outline =
 * out and on the tray, filled and underlined = left in, hatched = missing, broken outline = reckoned, not measured.
 */
export function MetalRow(props: MetalRowProps) {
  const id = createUniqueId();
  const laid = createMemo(() => metalRow(props.pieces));
  const height = () => props.scale.thickness + 3.4;
  const radius = () => props.diameter / 2;
  const shape = (piece: LaidPiece) =>
    rod(piece.from, Math.max(0.5, piece.length - 0.3), radius(), {
      start: piece.from > 0 ? 'broken' : 'flat',
      end: piece === laid().at(-1) ? 'tip' : 'broken',
    });
  return (
    <svg
      class="metal-row"
      role="img"
      aria-label={props.label}
      viewBox={`-1 ${-height() / 2} ${props.scale.length + 2} ${height()}`}
      preserveAspectRatio="xMinYMid meet"
    >
      <defs>
        <Hatch id={id} size={1.3} />
      </defs>
      <Show when={props.listed}>
        {(listed) => <path class="metal-row-listed" d={`M0 ${-radius() - 0.6}v-.8H${listed()}v.8`} />}
      </Show>
      <For each={laid()}>
        {(piece) => (
          <Show
            when={piece.kind === 'missing'}
            fallback={
              <>
                <path
                  class={`metal-row-${piece.kind}`}
                  data-assumed={piece.assumed ? '' : undefined}
                  d={shape(piece)}
                />
                <Show when={piece.kind === 'left'}>
                  <rect class="metal" x={piece.from} y={radius() + 0.5} width={piece.length} height="0.7" />
                </Show>
              </>
            }
          >
            <rect
              class="metal-row-missing"
              x={piece.from}
              y={-radius()}
              width={piece.length}
              height={2 * radius()}
              fill={`url(#${id})`}
            />
          </Show>
        )}
      </For>
    </svg>
  );
}
