import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import { allowTap } from '../../parts/tap-guard.ts';
import type { TimelineRow } from '../../record/model.ts';
import type { Shape, TimePicture } from '../../record/when/shapes.ts';
import { signPaths } from '../../record/when/svg.ts';
import { useApp } from '../app.ts';

type OfKind<K extends Shape['kind']> = Extract<Shape, { kind: K }>;
const as = <K extends Shape['kind']>(shape: Shape, kind: K) => (shape.kind === kind ? (shape as OfKind<K>) : undefined);

/** Bars and signs that tell of entries, from left to right, row by row. */
const touchable = ({ shapes }: TimePicture) =>
  shapes.filter(
    (shape): shape is OfKind<'bar'> | OfKind<'sign'> =>
      (shape.kind === 'bar' || shape.kind === 'sign') && shape.from.length > 0,
  );

/** The shapes alone, in ink. `chosen`: drawn with a frame around it. */
function Shapes(props: { picture: TimePicture; chosen?: Shape | undefined; id: string }) {
  return (
    <svg class="when-picture" viewBox={`0 0 ${props.picture.width} ${props.picture.height}`} aria-hidden="true">
      <defs>
        <pattern id={props.id} width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect class="when-ink" width="2" height="4" />
        </pattern>
      </defs>
      <For each={props.picture.shapes}>
        {(shape) => (
          <Switch>
            <Match when={as(shape, 'line')}>
              {(line) => <line class="when-line" x1={line().x1} y1={line().y1} x2={line().x2} y2={line().y2} />}
            </Match>
            <Match when={as(shape, 'text')}>
              {(text) => (
                <text
                  x={text().x}
                  y={text().y + text().height * 0.85}
                  font-size={String(props.picture.text)}
                  font-weight={text().bold ? 'bold' : undefined}
                >
                  {text().text}
                </text>
              )}
            </Match>
            <Match when={as(shape, 'bar')}>
              {(bar) => (
                <>
                  <rect class="when-paper" x={bar().x} y={bar().y} width={bar().width} height={bar().height} />
                  <rect
                    class="when-bar"
                    data-look={bar().look}
                    fill={bar().look === 'gain' ? `url(#${props.id})` : undefined}
                    x={bar().x}
                    y={bar().y}
                    width={bar().width}
                    height={bar().height}
                  />
                </>
              )}
            </Match>
            <Match when={as(shape, 'sign')}>
              {(sign) => (
                <g transform={`translate(${sign().x} ${sign().y}) scale(${sign().height / 12})`}>
                  <path class="when-sign-ground" d={signPaths[sign().sign]} />
                  <path class="when-sign" d={signPaths[sign().sign]} />
                </g>
              )}
            </Match>
          </Switch>
        )}
      </For>
      <Show when={props.chosen?.kind === 'bar' || props.chosen?.kind === 'sign' ? props.chosen : undefined}>
        {(one) => {
          const box = () => one() as OfKind<'bar'>;
          return (
            <rect
              class="when-chosen"
              x={box().x - 4}
              y={box().y - 4}
              width={box().width + 8}
              height={box().height + 8}
            />
          );
        }}
      </Show>
    </svg>
  );
}

/** When everything happened, as it is printed. */
export const PrintedWhen = (props: { picture: TimePicture }) => (
  <div role="img" aria-label={props.picture.alt}>
    <Shapes picture={props.picture} id="when-gain-print" />
  </div>
);

/**
 * When everything happened. The whole picture is one place to touch: what lies nearest to the finger is told below it,
 * entry by entry; the arrow keys go from one to the next.
 */
export function WhenPicture(props: { picture: TimePicture; rows: readonly TimelineRow[] }) {
  const { w } = useApp();
  const all = createMemo(() => touchable(props.picture));
  const [at, setAt] = createSignal(-1);
  const chosen = () => all()[at()];
  const entries = () => props.rows.filter(({ n }) => chosen()?.from.includes(n));
  let frame!: HTMLDivElement;
  const nearest = (event: MouseEvent) => {
    const box = frame.getBoundingClientRect();
    const scale = props.picture.width / box.width;
    const [x, y] = [(event.clientX - box.left) * scale, (event.clientY - box.top) * scale];
    const far = (one: { x: number; y: number; width: number; height: number }) =>
      // The row counts before the time: rows are wide apart, bars are not.
      Math.abs(y - one.y - one.height / 2) * 4 + Math.max(0, one.x - x, x - one.x - one.width);
    let best = -1;
    all().forEach((one, i) => {
      if (best < 0 || far(one) < far(all()[best] as typeof one)) best = i;
    });
    return best;
  };
  const step = (by: number) => {
    if (all().length) setAt((now) => (now + by + all().length) % all().length);
  };
  return (
    <>
      <div
        class="when-frame"
        ref={frame}
        role="group"
        tabindex="0"
        aria-label={`${props.picture.alt}. ${w('record.when-keys')}`}
        onClick={(event) => {
          if (allowTap(performance.now(), { down: performance.now() })) setAt(nearest(event));
        }}
        onKeyDown={(event) => {
          const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
          if (by === undefined) return;
          event.preventDefault();
          step(by);
        }}
      >
        <Shapes picture={props.picture} chosen={chosen()} id="when-gain" />
      </div>
      <div role="status" class="when-told">
        <Show when={entries().length} fallback={<p class="soft">{w('record.when-help')}</p>}>
          <ul class="paper-list">
            <For each={entries()}>
              {(row) => (
                <li>
                  <span class="figure">
                    {row.time} ({row.n})
                  </span>{' '}
                  <For each={row.marks}>{(mark) => <b>[{mark}] </b>}</For>
                  {row.sentence}
                </li>
              )}
            </For>
          </ul>
        </Show>
      </div>
    </>
  );
}
