/** The forecast of the open case, worked out in slices beside everything else. */
import { createEffect, createMemo, createSignal, onCleanup, type Accessor } from 'solid-js';
import { forecasting, type Ends, type Estimate, type Outlook, type Spread } from '../../../machines/forecast.ts';
import { forecastRates } from '../../session/rates.ts';
import { inSlices } from '../../session/time-slicing.ts';
import type { App } from '../app.ts';

/** Null until it is worked out; after a change the last one stands until the new one is there. */
export function createOutlook(app: App): Accessor<Outlook | null> {
  const [outlook, setOutlook] = createSignal<Outlook | null>(null);
  const folded = createMemo(() => app.open()?.folded ?? null);
  createEffect(() => {
    const now = folded();
    const rates = forecastRates(app);
    let wanted = true;
    onCleanup(() => (wanted = false));
    if (!now || now.screws.size === 0) return void setOutlook(null);
    void inSlices(forecasting(now, rates), () => wanted).then((found) => {
      if (found && wanted) setOutlook(found);
    });
  });
  return outlook;
}

export interface ScrewLine extends Ends {
  screws: string[];
  moves: number;
  minutes: Spread;
}

/** One line for all screws with the same figures; screws that have ended are left out. */
export function screwLines({ screws, screwMinutes }: Outlook): ScrewLine[] {
  const lines = new Map<string, ScrewLine>();
  for (const [id, figures] of Object.entries(screws)) {
    const minutes = screwMinutes[id];
    if (!minutes || figures.moves === 0) continue;
    const key = JSON.stringify([figures, minutes]);
    const line = lines.get(key);
    if (line) line.screws.push(id);
    else lines.set(key, { screws: [id], ...figures, minutes });
  }
  return [...lines.values()];
}

/**
 * Minutes as they are shown: rounded to five, and to one below twenty. The forecast is no finer than that.
 *
 * @example told(72.5) // 75
 */
export const told = (minutes: number): number => (minutes < 20 ? Math.round(minutes) : Math.round(minutes / 5) * 5);

/**
 * A probability out of a hundred, whole; 0 and 100 only where it is exactly that.
 *
 * @param chance 0–1
 * @example ofHundred(0.996) // 99
 */
export function ofHundred(chance: number): number {
  if (chance === 0 || chance === 1) return chance * 100;
  return Math.min(99, Math.max(1, Math.round(chance * 100)));
}

/** A chance as it is read: its mean out of a hundred, and the band about it where that is more than one figure. */
export function chance({ w }: Pick<App, 'w'>, { mean, p10, p90 }: Estimate): string {
  const [middle, low, high] = [mean, p10, p90].map(ofHundred) as [number, number, number];
  return low === high ? w('plan.chance-sure', { middle }) : w('plan.chance', { middle, low, high });
}

/** What the forecast rests on, in words; where most of it is from memory, that first. */
export function restsOn({ w }: Pick<App, 'w'>, { published, own, memory }: Outlook['knows']): string {
  const shares = w('plan.knows', {
    published: Math.round(published * 100),
    own: Math.round(own * 100),
    memory: Math.round(memory * 100),
  });
  return memory > 0.5 ? `${w('plan.mostly-memory')}. ${shares}` : shares;
}
