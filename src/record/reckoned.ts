/** What newer rules reckon otherwise of what was signed under older ones. */
import type { Content } from '../../content/types.ts';
import { partAccounts, screwAccount } from '../../machines/account.ts';
import type { Entry } from '../../machines/entry.ts';
import { fold, ruleVersions } from '../../machines/fold.ts';
import type { Folded } from '../../machines/folded.ts';
import { effectiveEntries } from '../../machines/trace.ts';
import { stateOf } from '../../machines/view.ts';
import { localeOf } from './locales/index.ts';

/** The rules that the last signature in force was given under; null without one. Format 1 does not say: its were the first. */
export function signedUnder({ trace }: Folded): { n: number; rules: number } | null {
  const signed = effectiveEntries(trace).findLast((entry) => entry.type === 'signed');
  return signed?.type === 'signed' ? { n: signed.n, rules: signed.rules ?? 1 } : null;
}

const folds = new WeakMap<Folded, { was: Folded; now: Folded }>();

/** The entries before a signature by the rules that it was given under, and by the newest. */
export function foldedBefore(folded: Folded, entries: readonly Entry[], n: number, older: Folded['rules']) {
  let both = folds.get(folded);
  if (!both) {
    const before = entries.slice(0, n - 1);
    const [was, now] = [older, ruleVersions.current()].map((rules) =>
      fold(before, folded.content, rules, folded.began),
    ) as [Folded, Folded];
    folds.set(folded, (both = { was, now }));
  }
  return both;
}

/**
 * What the newest rules reckon otherwise of what was signed under older ones, a line each in the language of the content.
 *
 * @param spoken the content in the language of the lines
 * @example differs(signedByRules1, entries)[0] // 'tourniquet 10 min, was 190 min'
 */
export function differs(folded: Folded, entries: readonly Entry[], spoken: Content): string[] {
  const signed = signedUnder(folded);
  const older = signed && ruleVersions.of(signed.rules);
  if (!signed || !older || older.number >= ruleVersions.current().number) return [];
  const { was, now } = foldedBefore(folded, entries, signed.n, older);
  const { minutes, screw, sections, entries: words } = localeOf(spoken.phrases.language);
  const { reckoned } = sections;
  const lines: string[] = [];
  const total = (state: Folded) => minutes(stateOf(state).clocks.tourniquetTotalMinutes);
  if (total(was) !== total(now)) lines.push(reckoned.tourniquet(total(now), total(was)));
  for (const [id, { context }] of now.screws) {
    const then = was.screws.get(id)?.context;
    if (!then) continue;
    if (then.stage !== context.stage) {
      const stage = (of: typeof then) => spoken.phrases.stages[of.stage].label;
      lines.push(reckoned.was(screw(id), stage(context), stage(then)));
    }
    const closes = (state: Folded, of: typeof then) => reckoned.closes[screwAccount(state, of).closes ?? 'open'];
    if (closes(now, context) !== closes(was, then))
      lines.push(reckoned.was(screw(id), closes(now, context), closes(was, then)));
  }
  for (const { id, closes } of partAccounts(now))
    if (closes === 'open') lines.push(reckoned.was(words.partName(id), reckoned.closes.open, reckoned.notAsked));
  lines.push(...now.impossibleTimes.map((n) => reckoned.impossible(n)));
  return lines;
}
