import { createSignal } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import { figure } from '../../format/figures.ts';
import { uncalibratedPxPerMm } from '../../parts/px-per-mm.ts';
import { useApp } from '../app.ts';

/** A bank card, mm: ISO/IEC 7810, format ID-1 (dimensions from memory). */
export const card = { width: 85.6, height: 53.98 } as const;

/**
 * CSS px per mm when the outline is so wide and fits the card.
 *
 * @param widthPx width of the outline, CSS px, > 0
 * @example pxPerMmOf(445.12) // 5.2
 */
export const pxPerMmOf = (widthPx: number): number => Math.round((widthPx / card.width) * 10_000) / 10_000;

const [narrowest, widest] = [150, 1100];

/**
 * How large a millimetre is on this screen: a card is held against the outline, and touches widen it until it fits.
 * Nothing changes on the page before it is said to fit, so that no touch moves away under the finger.
 */
export function Calibration() {
  const app = useApp();
  const { w } = app;
  const [width, setWidth] = createSignal(Math.round((app.preferences().pxPerMm ?? uncalibratedPxPerMm) * card.width));
  const height = () => (width() * card.height) / card.width;
  const by = (px: number) => setWidth((now) => Math.min(widest, Math.max(narrowest, now + px)));
  const stated = () => {
    const { pxPerMm } = app.preferences();
    return pxPerMm === null
      ? w('settings.not-calibrated')
      : w('settings.calibrated', { px: figure(pxPerMm.toFixed(2)) });
  };
  return (
    <div class="calibration">
      <p>
        <b>{stated()}</b> <span class="small soft">{w('settings.calibrate-how')}</span>
      </p>
      <div class="choice-row">
        <Touch size="small" quick label={w('settings.narrower-much')} onAct={() => by(-10)}>
          {w('settings.minus', { px: 10 })}
        </Touch>
        <Touch size="small" quick label={w('settings.narrower')} onAct={() => by(-1)}>
          {w('settings.minus', { px: 1 })}
        </Touch>
        <Touch size="small" quick label={w('settings.wider')} onAct={() => by(1)}>
          {w('settings.plus', { px: 1 })}
        </Touch>
        <Touch size="small" quick label={w('settings.wider-much')} onAct={() => by(10)}>
          {w('settings.plus', { px: 10 })}
        </Touch>
        <Touch onAct={() => app.prefer({ pxPerMm: pxPerMmOf(width()) })}>{w('settings.fits')}</Touch>
        <Touch onAct={() => app.prefer({ pxPerMm: null })}>{w('settings.forget')}</Touch>
      </div>
      <div class="card-room">
        <svg width={width()} height={height()} class="card-outline" role="img" aria-label={w('settings.card-outline')}>
          <rect x="1" y="1" width={width() - 2} height={height() - 2} rx={width() * 0.037} />
        </svg>
      </div>
      <p class="small soft">{w('settings.card-source')}</p>
    </div>
  );
}
