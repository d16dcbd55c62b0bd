import { roles } from '../../../content/ids.ts';
import type { App } from '../app.ts';

/** As many as fit a row. */
const most = 4;

/** Who may have decided, among the people listed: each once, the surgeon first. Who else did is told in words. */
export function decidersOf(app: App): string[] {
  const people = app.open()?.folded.case.context.people ?? [];
  const inOrder = roles.flatMap((role) => people.flatMap((one) => (one.role === role ? [one.who] : [])));
  return [...new Set(inOrder)].slice(0, most);
}
