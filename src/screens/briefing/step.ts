import { createDeferred, createMemo, type Accessor } from 'solid-js';
import type { ToolId } from '../../../content/ids.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { readiness, type Readiness } from '../../../machines/readiness.ts';
import type { App } from '../app.ts';

/** What a touch on the state of the room leads to: a tool to bring or to say the size of, a fact of a screw. */
export type Aim = { tool: ToolId } | { screw: string; ask: 'size' | 'drive' };

/** What every step of the briefing is given. */
export interface StepProps {
  /** Records the drafts in order; false when one was refused, which is then said. */
  put: (...drafts: EntryDraft[]) => Promise<boolean>;
  ready: Accessor<Readiness | null>;
  next: () => void;
  /** The listed screw that is asked about; null while a new one is described, or none is. */
  shown: Accessor<string | null>;
  show: (screw: string | null) => void;
  /** Where the last touch on the state of the room leads; it is done with once its step has read it. */
  aim: () => Aim | null;
  onAim: (aim: Aim) => void;
  /** Plays the plan through with outcomes that are dealt. */
  rehearse: () => void;
}

/**
 * Readiness of the open case, worked out when the page is idle: with an empty room it tries hundreds of sets of tools.
 * Null until a screw is listed.
 */
export function createReadiness(app: App): Accessor<Readiness | null> {
  const folded = createMemo(() => app.open()?.folded ?? null);
  const settled = createDeferred(folded, { timeoutMs: 1000 });
  return createMemo(() => {
    const now = settled();
    return now && now.screws.size > 0 ? readiness(now) : null;
  });
}
