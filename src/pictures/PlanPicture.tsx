import { For, Show, createMemo } from 'solid-js';
import type { Stage, constructs } from '../../content/ids.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { coreRadius, drawnDiameter, drawnPitch, head, threaded } from './screw-shape.ts';
import { beforeBone, drawnBone, planRow, planWidth, tipOf, twoLinesMm, type PlanBone } from './plan-shape.ts';

/** What stands at a screw: no way on from a stage, nobody can say, or something nobody entered. */
export interface PlanTag {
  kind: 'dead' | 'unsaid' | 'missing';
  word: string;
  /** What it means, spoken. */
  spoken: string;
}

export interface PlanScrew {
  id: string;
  stage: Stage;
  diameter: number | null;
  length: number | null;
  cortices: 1 | 2 | null;
  /** Size as it is read, such as "5.0 × 36"; its stage where it is no longer whole. */
  word: string;
  /** Something of its size nobody knows. */
  open: boolean;
  bone: PlanBone;
  tag: PlanTag | undefined;
}

export interface PlanPictureProps {
  construct: (typeof constructs)[number];
  /** The plate is off, or was never there. */
  plateOff: boolean;
  bone: PlanBone;
  screws: readonly PlanScrew[];
  /** The screw that is being asked about. */
  called: string | null;
  /** Height it is given, mm. */
  height: number;
  /** Width of the drawing itself, mm. */
  width: number;
  label: string;
  /** What stands at the screws was worked out. */
  known: boolean;
  /** Where a row has but one line, its sign stands without its word. */
  narrow: boolean;
  /** In place of the rows while no screw is listed. */
  none: string;
}

/** Length of a head before the surface, where it lies on the bone and where on a plate, mm as drawn. */
const headMm = { bone: 3, plate: 5 };

/**
 * The plan from the side: the bone with its walls, the plate on it or the nail within, every screw as long as it is, its
 * number and size beside it; and at the screw that it concerns what is missing, or where there would be no way on.
 */
export function PlanPicture(props: PlanPictureProps) {
  const row = createMemo(() => planRow(props.screws.length, props.height));
  const lines = () => (row() >= twoLinesMm ? 'two' : 'one');
  /** Room for tags, until it is known that there is none. */
  const tagged = () => !props.known || props.screws.some(({ tag }) => tag !== undefined);
  createLayoutGuard(() => `${lines()} ${tagged()} ${props.screws.map(({ id }) => id).join()}`);
  const before = () => (props.construct === 'plate' && !props.plateOff ? headMm.plate : headMm.bone);
  const tips = () => props.screws.map((screw) => tipOf(screw, drawnBone(screw.bone), before()));
  const wide = createMemo(() =>
    planWidth(
      tips(),
      [props.bone, ...props.screws.map(({ bone }) => bone)].map((bone) => drawnBone(bone).outer),
    ),
  );
  /** Millimetres of the bone to one on the screen. */
  const scale = () => wide() / props.width;
  const high = () => Math.max(props.screws.length, 1) * row() * scale();
  return (
    <div
      class="plan-picture"
      role="group"
      aria-label={props.label}
      data-lines={lines()}
      data-narrow={props.narrow ? '' : undefined}
      data-tagged={tagged() ? '' : undefined}
    >
      <svg
        class="plan-drawing"
        aria-hidden="true"
        viewBox={`${-beforeBone} 0 ${wide()} ${high()}`}
        style={{
          'inline-size': `calc(${props.width} * var(--mm))`,
          'block-size': `calc(${high() / scale()} * var(--mm))`,
        }}
      >
        <For each={props.screws} fallback={<BoneStretch bone={props.bone} from={0} to={high()} />}>
          {(screw, index) => (
            <BoneStretch bone={screw.bone} from={index() * row() * scale()} to={(index() + 1) * row() * scale()} />
          )}
        </For>
        <Show when={props.construct === 'nail'}>
          <rect
            class="plate"
            x={drawnBone(props.bone).outer / 2 - nailRadius(props.bone)}
            y="1"
            width={2 * nailRadius(props.bone)}
            height={Math.max(0, high() - 2)}
            rx={nailRadius(props.bone)}
          />
        </Show>
        <Show when={props.construct === 'plate'}>
          <rect
            class={props.plateOff ? 'ghost' : 'plate'}
            x="-4"
            y="1"
            width="3.6"
            height={Math.max(0, high() - 2)}
            rx="1.6"
          />
        </Show>
        <For each={props.screws}>
          {(screw, index) => (
            <g transform={`translate(0 ${(index() + 0.5) * row() * scale()}) rotate(-90)`}>
              <Lying screw={screw} before={before()} tip={tips()[index()] ?? 0} />
            </g>
          )}
        </For>
      </svg>
      <Show when={props.screws.length > 0} fallback={<p class="plan-none soft">{props.none}</p>}>
        <ol class="plan-rows" style={{ 'grid-auto-rows': `calc(${row()} * var(--mm))` }}>
          <For each={props.screws}>
            {(screw) => (
              <li data-called={screw.id === props.called ? '' : undefined}>
                <b class="plan-number">{screw.id}</b>
                <span class="plan-size" data-open={screw.open ? '' : undefined}>
                  {screw.word}
                </span>
                <Show when={screw.tag}>
                  {(tag) => (
                    <span class="plan-tag" data-kind={tag().kind}>
                      <TagSign kind={tag().kind} />
                      <span class="plan-word">{tag().word}</span> <span class="only-spoken">{tag().spoken}</span>
                    </span>
                  )}
                </Show>
              </li>
            )}
          </For>
        </ol>
      </Show>
    </div>
  );
}

const nailRadius = (bone: PlanBone) => {
  const { outer, cortex } = drawnBone(bone);
  return Math.max(2, (outer - 2 * cortex) * 0.36);
};

/** Both walls with the marrow between them; only outlines, broken, where nobody entered a bone. */
function BoneStretch(props: { bone: PlanBone; from: number; to: number }) {
  const bone = () => drawnBone(props.bone);
  const height = () => props.to - props.from;
  return (
    <>
      <Show when={bone().known}>
        <rect class="marrow" x="0" y={props.from} width={bone().outer} height={height()} />
        <rect class="bone" x="0" y={props.from} width={bone().cortex} height={height()} />
        <rect class="bone" x={bone().outer - bone().cortex} y={props.from} width={bone().cortex} height={height()} />
      </Show>
      <path
        class="bone-line"
        data-assumed={!props.bone || props.bone.assumed ? '' : undefined}
        d={`M0 ${props.from}V${props.to}M${bone().outer} ${props.from}V${props.to}`}
      />
    </>
  );
}

/** A screw across the bone, drawn upright about its own axis: head up, so that the row lays it down. */
function Lying(props: { screw: PlanScrew; before: number; tip: number }) {
  const radius = () => drawnDiameter(props.screw) / 2;
  const core = () => coreRadius(radius());
  const pitch = () => drawnPitch(2 * radius());
  const headed = () => props.screw.stage === 'seated' || props.screw.stage === 'recess-stripped';
  const headRadius = () => Math.max(radius() * 1.7, 3);
  const top = () => -props.before - 1.5;
  const headHeight = 4;
  const neck = () => top() + headHeight;
  const isThere = () => props.screw.stage !== 'out';
  /** Where what is left begins: at the neck, at the surface, or deep in the far wall. */
  const from = () => {
    if (headed()) return neck();
    if (props.screw.stage === 'fragment-retained') return Math.max(2, props.tip * 0.62);
    return 0;
  };
  const sides = (start: number, end: number) =>
    `M${-radius()} ${start}V${end}M${radius()} ${start}V${end}M${-radius()} ${end}H${radius()}`;
  return (
    <Show when={isThere()} fallback={<path class="ghost" d={sides(0, props.tip)} />}>
      <Show when={headed()} fallback={<path class="ghost" d={head(0, headRadius(), top(), headHeight, core())} />}>
        <path
          class="metal"
          d={head(0, headRadius(), top(), headHeight, core(), props.screw.stage === 'recess-stripped')}
        />
      </Show>
      <Show when={props.screw.length !== null} fallback={<path class="ghost" d={sides(from(), props.tip)} />}>
        <path class="metal plan-shank" d={threaded(0, radius(), from(), props.tip, pitch(), !headed())} />
      </Show>
    </Show>
  );
}

/** A road that ends, a question, an empty box. */
export function TagSign(props: { kind: PlanTag['kind'] }) {
  const path = () =>
    ({
      dead: 'M4 4V20M4 12H20',
      unsaid: 'M6 8a6 6 0 1 1 8 5.6c-1.4.6-2 1.4-2 3M12 20v2',
      missing: 'M5 5H19V19H5Z',
    })[props.kind];
  return (
    <svg class="mark" viewBox="0 0 24 24" aria-hidden="true">
      <path d={path()} fill="none" stroke="currentColor" stroke-width="3" />
    </svg>
  );
}
