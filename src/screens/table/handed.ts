/** A move that a question stands before, handed from the table to the surgeon's page and back: it is asked on both. */
import type { MoveId, ToolId } from '../../../content/ids.ts';
import type { App } from '../app.ts';

export interface Handed {
  move: MoveId;
  tool: ToolId | undefined;
}

const waiting = new WeakMap<App, Handed>();

/** Hands over what the other screen is to ask; null for nothing. */
export function handOver(app: App, what: Handed | null): void {
  if (what) waiting.set(app, what);
  else waiting.delete(app);
}

/** Takes what was handed over, once. */
export function takeOver(app: App): Handed | null {
  const what = waiting.get(app) ?? null;
  waiting.delete(app);
  return what;
}
