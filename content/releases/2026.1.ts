/** Release 2026.1: the files of its folder as one content. */
import antibiotics from '../2026.1/antibiotics.json' with { type: 'json' };
import bones from '../2026.1/bones.json' with { type: 'json' };
import consent from '../2026.1/consent.json' with { type: 'json' };
import holds from '../2026.1/holds.json' with { type: 'json' };
import { ids } from '../2026.1/ids.ts';
import limits from '../2026.1/limits.json' with { type: 'json' };
import moves from '../2026.1/moves.json' with { type: 'json' };
import phrases from '../2026.1/phrases.en.json' with { type: 'json' };
import rates from '../2026.1/rates.json' with { type: 'json' };
import recesses from '../2026.1/recesses.json' with { type: 'json' };
import release from '../2026.1/release.json' with { type: 'json' };
import screws from '../2026.1/screws.json' with { type: 'json' };
import sources from '../2026.1/sources.json' with { type: 'json' };
import tools from '../2026.1/tools.json' with { type: 'json' };

export const release2026_1 = {
  ...release,
  ids,
  antibiotics,
  bones,
  consent,
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
