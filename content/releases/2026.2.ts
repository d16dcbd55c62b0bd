/** Release 2026.2, a draft: the files of its folder as one content. */
import antibiotics from '../2026.2/antibiotics.json' with { type: 'json' };
import aftercare from '../2026.2/aftercare.json' with { type: 'json' };
import beyond from '../2026.2/beyond.json' with { type: 'json' };
import bones from '../2026.2/bones.json' with { type: 'json' };
import consent from '../2026.2/consent.json' with { type: 'json' };
import headHeights from '../2026.2/head-heights.json' with { type: 'json' };
import holds from '../2026.2/holds.json' with { type: 'json' };
import { ids } from '../2026.2/ids.ts';
import limits from '../2026.2/limits.json' with { type: 'json' };
import moves from '../2026.2/moves.json' with { type: 'json' };
import phrases from '../2026.2/phrases.en.json' with { type: 'json' };
import rates from '../2026.2/rates.json' with { type: 'json' };
import recesses from '../2026.2/recesses.json' with { type: 'json' };
import release from '../2026.2/release.json' with { type: 'json' };
import screws from '../2026.2/screws.json' with { type: 'json' };
import sources from '../2026.2/sources.json' with { type: 'json' };
import tools from '../2026.2/tools.json' with { type: 'json' };

export const release2026_2 = {
  ...release,
  ids,
  aftercare,
  beyond,
  antibiotics,
  bones,
  consent,
  headHeights,
  holds,
  limits,
  moves,
  rates,
  phrases,
  recesses,
  screws,
  sources,
  tools,
};
