/** Real millimetres on this screen. */
import { createSignal, onCleanup, onMount } from 'solid-js';
import { uncalibratedPxPerMm } from '../parts/px-per-mm.ts';
import type { App, Preferences } from './app.ts';

export const pxPerMm = ({ pxPerMm }: Pick<Preferences, 'pxPerMm'>): number => pxPerMm ?? uncalibratedPxPerMm;

/** Does a media query hold? Followed as it changes. */
export function createMedia(query: string): () => boolean {
  const list = typeof matchMedia === 'undefined' ? null : matchMedia(query);
  const [holds, setHolds] = createSignal(list?.matches ?? false);
  const follow = () => setHolds(list?.matches ?? false);
  list?.addEventListener('change', follow);
  onCleanup(() => list?.removeEventListener('change', follow));
  return holds;
}

/**
 * Width and height of an element, mm, followed as they change.
 *
 * @param start what counts until it was measured
 */
export function createRoomOf({ preferences }: App, start: { width: number; height: number }) {
  const [px, setPx] = createSignal<{ width: number; height: number } | null>(null);
  let element: HTMLElement | undefined;
  const measure = () => {
    const { clientWidth: width, clientHeight: height } = element ?? { clientWidth: 0, clientHeight: 0 };
    if (width > 0 && height > 0) setPx({ width, height });
  };
  onMount(() => {
    measure();
    if (!element || typeof ResizeObserver === 'undefined') return;
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    onCleanup(() => observer.disconnect());
  });
  const room = () => {
    const now = px();
    const perMm = pxPerMm(preferences());
    return now ? { width: now.width / perMm, height: now.height / perMm } : start;
  };
  return { room, ref: (found: HTMLElement) => void (element = found) };
}
