import { Index, Show, createUniqueId } from 'solid-js';
import type { Bore } from '../../machines/entry.ts';
import { bare, percent } from '../format/figures.ts';
import { Mark } from '../parts/Marks.tsx';
import { Gauge } from './Gauge.tsx';
import { Hatch } from './Hatch.tsx';
import { ring, slabs } from './ring-paths.ts';

export interface BoneSectionProps {
  /** mm */
  outer: number;
  cortex: number;
  /** Holes there now, the screw's own among them. */
  before: readonly Bore[];
  /** Holes after the move, those before among them; the same list where nothing more is taken. */
  after: readonly Bore[];
  /** Shares of the ring's area, 0–1; null when unknown. */
  cortexLostBefore: number | null;
  cortexLost: number | null;
  bendingKept: number | null;
  torsionKept: number | null;
  /** Lower and upper end of the band; left out, the single figure is shown. */
  torsionBand?: readonly [number, number];
  /** Said when the figure lies beyond what was tested. */
  beyondTested?: string | undefined;
  /** Said when the measures are assumed. */
  assumed?: string | undefined;
  limits: { consider: number; stop: number };
  /** `lost` stands over the ruler, `limit` before its marks; `becomes` is spoken between two values. */
  words: { lost: string; limit: string; bends: string; twists: string; becomes: string };
  /** The drawing in words. */
  label: string;
  /** The drawing alone, with the loss inside the ring. */
  plain?: boolean;
}

/** The bone cut across at the level of the screw, to scale: what is there, what is gone, what the move would take. */
export function BoneSection(props: BoneSectionProps) {
  const id = createUniqueId();
  const half = () => props.outer / 2 + 1.5;
  const grows = () => (props.cortexLost ?? 0) > (props.cortexLostBefore ?? 0);
  const twists = () =>
    props.torsionBand
      ? `${Math.round(props.torsionBand[0] * 100)}–${percent(props.torsionBand[1])}`
      : percent(props.torsionKept);
  return (
    <figure class="section" role="img" aria-label={props.label} data-plain={props.plain ? '' : undefined}>
      <div class="section-ring">
        <svg viewBox={`${-half()} ${-half()} ${2 * half()} ${2 * half()}`} aria-hidden="true">
          <defs>
            <Hatch id={`${id}-hatch`} size={props.outer / 16} />
            <mask
              id={`${id}-now`}
              maskUnits="userSpaceOnUse"
              x={-half()}
              y={-half()}
              width={2 * half()}
              height={2 * half()}
            >
              <Slabs outer={props.outer} bores={props.after} fill="#000" under />
            </mask>
            <mask
              id={`${id}-gone`}
              maskUnits="userSpaceOnUse"
              x={-half()}
              y={-half()}
              width={2 * half()}
              height={2 * half()}
            >
              <Slabs outer={props.outer} bores={props.before} fill="#000" under />
            </mask>
            <clipPath id={`${id}-ring`}>
              <path d={ring(props.outer, props.cortex)} clip-rule="evenodd" />
            </clipPath>
          </defs>
          <path class="bone" d={ring(props.outer, props.cortex)} fill-rule="evenodd" mask={`url(#${id}-now)`} />
          <Show when={grows()}>
            <g clip-path={`url(#${id}-ring)`}>
              <g mask={`url(#${id}-gone)`}>
                <Slabs outer={props.outer} bores={props.after} fill={`url(#${id}-hatch)`} />
              </g>
              <Slabs outer={props.outer} bores={props.after} class="would" />
            </g>
          </Show>
          <g clip-path={`url(#${id}-ring)`}>
            <Slabs outer={props.outer} bores={props.before} class="gone" />
          </g>
          <path class="bone-line" d={ring(props.outer, props.cortex)} />
        </svg>
        <div
          class="section-loss"
          data-two={grows() ? '' : undefined}
          style={{ '--canal': String((props.outer - 2 * props.cortex) / (2 * half())) }}
        >
          <Show when={grows()}>
            <span class="section-before">
              {bare(props.cortexLostBefore)} <Mark sign="becomes" />
            </span>
          </Show>
          <b>{percent(props.cortexLost)}</b>
        </div>
      </div>
      <Show when={!props.plain}>
        <div class="section-words">
          <Gauge
            label={props.words.lost}
            limit={props.words.limit}
            before={props.cortexLostBefore}
            after={props.cortexLost}
            limits={props.limits}
          />
          <span>
            {props.words.bends} <b class="figure">{percent(props.bendingKept)}</b>
          </span>
          <span>
            {props.words.twists} <b class="figure">{twists()}</b>
            <Show when={props.beyondTested}> {props.beyondTested}</Show>
          </span>
          <Show when={props.assumed}>
            <span>{props.assumed}</span>
          </Show>
        </div>
      </Show>
    </figure>
  );
}

function Slabs(props: { outer: number; bores: readonly Bore[]; fill?: string; class?: string; under?: boolean }) {
  const reach = () => props.outer;
  return (
    <>
      <Show when={props.under}>
        <rect x={-reach()} y={-reach()} width={2 * reach()} height={2 * reach()} fill="#fff" />
      </Show>
      <Index each={slabs(props.outer, props.bores)}>
        {(slab) => (
          <rect
            class={props.class}
            x={slab().x}
            y={slab().y}
            width={slab().width}
            height={slab().height}
            transform={`rotate(${slab().turn})`}
            {...(props.fill ? { fill: props.fill } : {})}
          />
        )}
      </Index>
    </>
  );
}
