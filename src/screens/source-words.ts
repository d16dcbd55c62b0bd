/** What a figure rests on, in words: its source and the status of it. */
import { wasSet, type CaseLimit } from '../session/effective.ts';
import type { App } from './app.ts';

/** A row of the sources with its status; a row that is not there shows its id. */
export function sourceWords({ w, content }: App, id: string): string {
  const row = content().sources.find((one) => one.id === id);
  return row ? `${row.cite} (${w(`status.${row.status}`)})` : id;
}

/** Where a limit in force comes from: this case, else the content that it is read with. */
export function limitWords(app: App, limit: CaseLimit): string {
  const open = app.open();
  if (open && wasSet(open, limit)) return app.w('briefing.limit-set');
  const released = app.content().limits[limit];
  return released ? sourceWords(app, released.source) : app.w('briefing.limit-none');
}
