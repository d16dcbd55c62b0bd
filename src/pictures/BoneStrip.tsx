import { For, createUniqueId } from 'solid-js';
import { percent } from '../format/figures.ts';
import { Hatch } from './Hatch.tsx';

export interface StripLevel {
  screw: string;
  /** Share of the ring lost at this level now, 0–1; null when unknown. */
  lost: number | null;
  /** After the selected move at this level; left out where none is selected. */
  after?: number | null;
}

export interface BoneStripProps {
  /** In their true order along the bone. */
  levels: readonly StripLevel[];
  called: string | null;
  limits: { consider: number; stop: number };
  /** Word before the limits. */
  limit: string;
  /** The drawing in words. */
  label: string;
}

/** The bone along its length: at every screw a notch as deep as the share that is lost there, the limits as lines. */
export function BoneStrip(props: BoneStripProps) {
  const id = createUniqueId();
  const deepest = () =>
    Math.max(props.limits.stop * 1.3, ...props.levels.map((level) => (level.after ?? level.lost ?? 0) * 1.05));
  const depth = (share: number | null | undefined) => ((share ?? 0) / deepest()) * 40;
  const width = () => props.levels.length * 20;
  return (
    <figure class="strip" role="img" aria-label={props.label}>
      <div class="strip-drawing">
        <svg viewBox={`0 0 ${width()} 40`} preserveAspectRatio="none" aria-hidden="true">
          <defs>
            <Hatch id={id} size={2.4} />
          </defs>
          <rect class="bone" width={width()} height="40" />
          <path class="bone-line" d={`M0 0H${width()}M0 40H${width()}`} />
          <For each={props.levels}>
            {(level, index) => (
              <>
                <rect
                  class="notch"
                  x={index() * 20 + 7}
                  y="0"
                  width="6"
                  height={Math.max(depth(level.lost), depth(level.after))}
                />
                <rect
                  x={index() * 20 + 7}
                  y={depth(level.lost)}
                  width="6"
                  height={Math.max(0, depth(level.after) - depth(level.lost))}
                  fill={`url(#${id})`}
                />
                <path class="notch-floor" d={`M${index() * 20 + 7} 0V${depth(level.lost)}h6V0`} />
              </>
            )}
          </For>
          <path
            class="gauge-limit"
            d={`M0 ${depth(props.limits.consider)}H${width()}M0 ${depth(props.limits.stop)}H${width()}`}
          />
        </svg>
        <span class="strip-limit figure" style={{ top: `${(props.limits.consider / deepest()) * 100}%` }}>
          {props.limit} {percent(props.limits.consider)}
        </span>
        <span class="strip-limit figure" style={{ top: `${(props.limits.stop / deepest()) * 100}%` }}>
          {percent(props.limits.stop)}
        </span>
      </div>
      <div class="strip-screws">
        <For each={props.levels}>
          {(level) => (
            <span data-called={level.screw === props.called ? '' : undefined}>
              <b class="figure">{level.screw}</b>
              <span class="figure">{percent(level.after ?? level.lost)}</span>
            </span>
          )}
        </For>
      </div>
    </figure>
  );
}
