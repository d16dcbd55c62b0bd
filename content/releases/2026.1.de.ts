/** The release in German, for where its files are at hand; a browser fetches them only when they are wanted. */
import type { Translation } from '../translation.ts';
import phrases from '../2026.1/phrases.de.json' with { type: 'json' };
import trade from '../2026.1/trade.de.json' with { type: 'json' };
import across from '../words/de/across.json' with { type: 'json' };
import department from '../words/de/department.json' with { type: 'json' };
import first from '../words/de/first.json' with { type: 'json' };
import later from '../words/de/later.json' with { type: 'json' };
import plan from '../words/de/plan.json' with { type: 'json' };
import reasons from '../words/de/reasons.json' with { type: 'json' };
import record from '../words/de/record.json' with { type: 'json' };
import refusals from '../words/de/refusals.json' with { type: 'json' };
import rooms from '../words/de/rooms.json' with { type: 'json' };
import table from '../words/de/table.json' with { type: 'json' };
import tongue from '../words/de/tongue.json' with { type: 'json' };
import trust from '../words/de/trust.json' with { type: 'json' };

export const german: Translation = {
  phrases,
  words: [across, department, first, later, plan, reasons, record, refusals, rooms, table, tongue, trust],
  trade,
};
