/** Content in another language: the same ids and figures, other words. What a translation lacks stays as released. */
import * as v from 'valibot';
import { glanceFaults } from './check.ts';
import { faultsOf, laidOver } from './shape.ts';
import { schemasOf, type Cited, type Content } from './types.ts';
import type { ReleaseWords } from './releases/release-words.ts';

/** BCP 47 code of a language; which ones this build speaks says `languages()`. */
export type Language = string;

/** The files of one language, as a JSON reader gave them. */
export interface Translation extends ReleaseWords {
  words: readonly object[];
}

/** What `translated` is, for whoever is given it. */
export type Translate = (content: Content, translation: Translation) => Content;

const cited = (rows: readonly Cited[], texts: readonly string[] | undefined): Cited[] =>
  rows.map((row, index) => ({ ...row, text: texts?.[index] ?? row.text }));

/**
 * A release in the words of a translation.
 *
 * @throws Error when the phrases break a rule that the released ones keep, such as a glance label that is too long
 * @example translated(release, german).moves[0]?.cautions[0]?.text // 'Antrieb sauber, Schraubendreher ganz drin, …'
 */
export function translated(content: Content, { phrases, words, trade }: Translation): Content {
  const all = { ...phrases, words: Object.assign({}, ...words, (phrases as { words?: object }).words) as object };
  const checked = v.safeParse(schemasOf(content.ids).Phrases, laidOver(content.phrases, all));
  const faults = checked.success
    ? glanceFaults({ ladder: content.ladder, phrases: checked.output })
    : faultsOf(checked.issues);
  if (!checked.success || faults.length > 0) throw new Error(faults.map(({ message }) => message).join('; '));
  return {
    ...content,
    phrases: checked.output,
    orderStatus: trade.orderStatus ?? content.orderStatus,
    limits: { ...content.limits, tourniquetBySite: cited(content.limits.tourniquetBySite, trade.tourniquetBySite) },
    holds: content.holds.map((hold) => ({
      ...hold,
      reasons: [...(trade.holds?.[hold.id] ?? hold.reasons)],
      evidence: cited(hold.evidence, trade.holdEvidence?.[hold.id]),
    })),
    tools: content.tools.map((tool) => ({ ...tool, why: trade.tools?.[tool.id] ?? tool.why })),
    moves: content.moves.map((move) => ({
      ...move,
      cautions: cited(move.cautions, trade.moves?.[move.id]?.cautions),
      evidence: cited(move.evidence, trade.moves?.[move.id]?.evidence),
    })),
    beyond: content.beyond.map((row, index) => ({ ...row, ...trade.beyond?.[index] })),
    aftercare: content.aftercare.map((line) => ({ ...line, text: trade.aftercare?.[line.id] ?? line.text })),
    antibiotics: content.antibiotics.map((drug) => ({ ...drug, dose: trade.antibiotics?.[drug.id] ?? drug.dose })),
    sources: content.sources.map((row) => ({ ...row, ...trade.sources?.[row.id] })),
  };
}
