import { Index, Match, Switch, createMemo } from 'solid-js';
import type { constructs } from '../../content/ids.ts';
import { barMm, gapMm, lengthAlong, middleAlong, smallGapMm, smallMm, touchMm } from './map-layout.ts';

export interface MapBarProps {
  construct: (typeof constructs)[number];
  count: number;
  fold: 'one' | 'two';
  cell: 'small' | 'touch';
  flow: 'row' | 'column';
}

/** The metal that the screws hold: a plate as a long bar with holes, a nail as a rod with bolts across. */
export function MapBar(props: MapBarProps) {
  const cell = () => (props.cell === 'touch' ? touchMm : smallMm);
  const gap = () => (props.cell === 'touch' ? gapMm : smallGapMm);
  const length = () => lengthAlong(props.count, props.fold, cell(), gap());
  const holes = createMemo(() => {
    const all: number[] = [];
    for (let index = 0; index < props.count; index++) all.push(middleAlong(index, props.fold, cell(), gap()));
    return all;
  });
  const turned = () => props.flow === 'column';
  const box = () => (turned() ? `0 0 ${barMm} ${length()}` : `0 0 ${length()} ${barMm}`);
  return (
    <svg viewBox={box()} preserveAspectRatio="none" aria-hidden="true">
      <g transform={turned() ? `matrix(0 1 1 0 0 0)` : undefined}>
        <Switch>
          <Match when={props.construct === 'plate'}>
            <rect class="bar" x="0.4" y="0.6" width={length() - 0.8} height={barMm - 1.2} rx="2.9" />
            <Index each={holes()}>{(x) => <ellipse class="bar-hole" cx={x()} cy={barMm / 2} rx="2" ry="1.6" />}</Index>
          </Match>
          <Match when={props.construct === 'nail'}>
            <rect class="bar" x="0.4" y="1.6" width={length() - 0.8} height={barMm - 3.2} rx="1.9" />
            <Index each={holes()}>{(x) => <path class="bolt" d={`M${x()} 0V${barMm}`} />}</Index>
          </Match>
          <Match when={props.construct === 'screws'}>
            <Index each={holes()}>{(x) => <path class="bolt" d={`M${x()} ${barMm * 0.2}V${barMm * 0.8}`} />}</Index>
          </Match>
        </Switch>
      </g>
    </svg>
  );
}
