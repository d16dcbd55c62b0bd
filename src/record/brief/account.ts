/** The account of the metal as a table: alike screws in one row. */
import { partAccounts, screwAccount } from '../../../machines/account.ts';
import type { MetalAccount } from '../../../machines/view.types.ts';
import { capital, heading, ranges } from '../../format/prose.ts';
import type { RecordLog } from '../log.ts';
import type { Block } from '../model.ts';
import { partsOf } from '../part-facts.ts';
import { howClosed, isComplete, plainly } from '../sections-metal.ts';

interface Row {
  id: string;
  account: MetalAccount;
  closes: string;
  stage: string;
}

/** One length, or the least and the most; not known as soon as one is not. */
function lengths({ locale }: RecordLog, values: readonly (number | null)[], none: string): string {
  const known = values.filter((value) => value !== null);
  if (known.length < values.length || !known.length) return none;
  const [least, most] = [Math.min(...known), Math.max(...known)];
  return least === most ? locale.mm(least) : locale.firstPage.to(locale.mm(least), locale.mm(most));
}

/** That nothing stays is known once the account closes, and never of one that is open. */
const leftOf = ({ left, closes }: MetalAccount): number | null =>
  left === 0 && (closes === null || closes === 'open') ? null : left;

/** Rows of the table: one a screw, alike ones that close together; then parts, then tips of tools. */
export function accountTable(log: RecordLog): Block | null {
  const { firstPage: words, sections, clean, screw } = log.locale;
  const rows = [...log.folded.screws.values()].map(({ context }): Row => {
    const account = screwAccount(log.folded, context);
    return {
      id: context.id,
      account,
      closes: sections.metal.closes(account, howClosed(log, context)),
      stage: context.stage,
    };
  });
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const isOpen = row.account.closes === null || row.account.closes === 'open' || (row.account.left ?? 0) > 0;
    const key = isOpen
      ? `one ${row.id}`
      : `${row.stage} ${row.account.recovered === null} ${row.account.destroyed} ${row.closes}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const screws = [...groups.values()].map((all) => {
    const of = (field: 'listed' | 'recovered', none: string) =>
      lengths(
        log,
        all.map(({ account }) => account[field]),
        none,
      );
    const ids = all.map(({ id }) => clean(id));
    return [
      capital(ids.length > 1 ? words.screws(ranges(ids)) : screw(ids[0] as string)),
      of('listed', words.unknown),
      of('recovered', words.notMeasured),
      lengths(
        log,
        all.map(({ account }) => leftOf(account)),
        words.unknown,
      ),
      all[0]?.closes ?? '',
    ];
  });
  const accounts = new Map(partAccounts(log.folded).map((part) => [part.id, part]));
  const parts = partsOf(log).map((part) => {
    const open = accounts.get(part.id)?.closes === 'open' ? `; ${words.partOpen}` : '';
    const became = sections.parts.became(part) ?? (part.asked ? words.nobodySpoke : log.locale.notAsked);
    const length = part.length === null ? words.unknown : log.locale.mm(part.length);
    return [heading(part.name), length, '–', '–', `${became}${open}`];
  });
  const tips = log.view.toolTips.map((tip) => [
    capital(words.tip(log.locale.tool(log.content, tip.tool), tip.entry)),
    lengths(log, [tip.listed], words.unknown),
    lengths(log, [tip.recovered], words.notMeasured),
    lengths(log, [leftOf(tip)], words.unknown),
    sections.metal.closes(tip, { ...plainly, complete: isComplete(log, tip.entry) }),
  ]);
  const all = [...screws, ...parts, ...tips];
  return all.length ? { kind: 'table', head: [...words.columns], rows: all } : null;
}
