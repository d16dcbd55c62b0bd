/** The words of screens and record in German. */
import across from './across.json' with { type: 'json' };
import department from './department.json' with { type: 'json' };
import faults from './faults.json' with { type: 'json' };
import first from './first.json' with { type: 'json' };
import later from './later.json' with { type: 'json' };
import list from './list.json' with { type: 'json' };
import plan from './plan.json' with { type: 'json' };
import reasons from './reasons.json' with { type: 'json' };
import record from './record.json' with { type: 'json' };
import refusals from './refusals.json' with { type: 'json' };
import rehearsal from './rehearsal.json' with { type: 'json' };
import rooms from './rooms.json' with { type: 'json' };
import sheets from './sheets.json' with { type: 'json' };
import table from './table.json' with { type: 'json' };
import tongue from './tongue.json' with { type: 'json' };
import trust from './trust.json' with { type: 'json' };

export const words = {
  ...across,
  ...department,
  ...faults,
  ...first,
  ...later,
  ...list,
  ...plan,
  ...reasons,
  ...record,
  ...refusals,
  ...rehearsal,
  ...rooms,
  ...sheets,
  ...table,
  ...tongue,
  ...trust,
};
