/** What a language says of one release. */

type Texts = readonly string[];

/** The short texts of the trade that stand outside the phrases, by id and in the order of the release. */
export interface TradeTexts {
  orderStatus?: string;
  tourniquetBySite?: Texts;
  holds?: Partial<Record<string, Texts>>;
  holdEvidence?: Partial<Record<string, Texts>>;
  tools?: Partial<Record<string, string>>;
  moves?: Partial<Record<string, { cautions: Texts; evidence: Texts }>>;
  /** As many as the release has, in its order. */
  beyond?: readonly { where: string | null; text: string }[];
  aftercare?: Partial<Record<string, string>>;
  /** Doses whose spelling differs. */
  antibiotics?: Partial<Record<string, string>>;
  /** What a source says, and how it is cited where the citation is more than a reference. */
  sources?: Partial<Record<string, { what: string; cite?: string }>>;
}

/** One release in one language. */
export interface ReleaseWords {
  phrases: object;
  trade: TradeTexts;
}
