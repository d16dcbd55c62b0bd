/**
 * The words that no resumed case shows at a start: those of the rooms and sheets in scripts of their own, in English. A
 * translation brings all of its words at once.
 */
import across from '../../content/words/en/across.json' with { type: 'json' };
import department from '../../content/words/en/department.json' with { type: 'json' };
import faults from '../../content/words/en/faults.json' with { type: 'json' };
import plan from '../../content/words/en/plan.json' with { type: 'json' };
import record from '../../content/words/en/record.json' with { type: 'json' };
import rehearsal from '../../content/words/en/rehearsal.json' with { type: 'json' };
import rooms from '../../content/words/en/rooms.json' with { type: 'json' };
import sheets from '../../content/words/en/sheets.json' with { type: 'json' };
import trust from '../../content/words/en/trust.json' with { type: 'json' };
import './list-messages.ts';
import { addWords } from './messages.ts';

addWords({ ...across, ...department, ...faults, ...plan, ...record, ...rehearsal, ...rooms, ...sheets, ...trust });
