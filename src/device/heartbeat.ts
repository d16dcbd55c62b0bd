/** Notices that the screen stood still: frozen page, sleeping device, a browser that stopped painting. */

export interface Gap {
  /** Seconds in which nothing was painted. */
  seconds: number;
  /** The page was hidden meanwhile, so a gap was to be expected. */
  hidden: boolean;
}

export interface BeatSources {
  wall?: () => number;
  monotonic?: () => number;
  frame?: (painted: () => void) => void;
  page?: Pick<Document, 'hidden' | 'addEventListener' | 'removeEventListener'>;
  /** ms between two looks. */
  every?: number;
  /** ms without a paint that count as a gap. */
  limit?: number;
}

/**
 * Tells, at the first paint after it, that nothing had been painted for more than 2 s.
 *
 * @param onBeat called at every painted frame that was looked at: drives a visible pulse
 * @returns ends the watch
 * @example watchPainting(({ seconds }) => tell(`the screen stood still for ${seconds} s`))
 */
export function watchPainting(
  onGap: (gap: Gap) => void,
  onBeat: () => void = () => {},
  sources: BeatSources = {},
): () => void {
  const {
    wall = Date.now,
    monotonic = () => performance.now(),
    frame = (painted) => void requestAnimationFrame(painted),
  } = sources;
  const { page = document, every = 500, limit = 2000 } = sources;
  let last = { wall: wall(), monotonic: monotonic() };
  let wasHidden = page.hidden;
  let over = false;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const painted = () => {
    if (over) return;
    const at = { wall: wall(), monotonic: monotonic() };
    // The monotonic clock may stand still while the device sleeps; the wall clock may be set.
    const still = Math.max(at.monotonic - last.monotonic, at.wall - last.wall);
    if (still > limit) onGap({ seconds: Math.round(still) / 1000, hidden: wasHidden });
    last = at;
    wasHidden = page.hidden;
    onBeat();
    timer = setTimeout(() => frame(painted), every);
  };
  const hiding = () => (wasHidden ||= page.hidden);

  page.addEventListener('visibilitychange', hiding);
  frame(painted);
  return () => {
    over = true;
    clearTimeout(timer);
    page.removeEventListener('visibilitychange', hiding);
  };
}
