/**
 * What every log must do, whatever it is kept in. Independent of any test runner, so that the same rules are run in
 * Node and inside real browsers' pages.
 */
import type { LogPort } from '../../src/store/port.ts';
import { chain, metaOf, next } from './chain.ts';

export interface Rule {
  name: string;
  /** `open` opens the same log again each time it is called. Rejects when the rule is broken. */
  run(open: () => Promise<LogPort>): Promise<void>;
}

export function same(actual: unknown, wanted: unknown, what: string): void {
  const [a, b] = [JSON.stringify(actual), JSON.stringify(wanted)];
  if (a !== b) throw new Error(`${what}: wanted ${b?.slice(0, 300)}, got ${a?.slice(0, 300)}`);
}

const filled = async (log: LogPort, caseId: string, count = 3) => {
  const entries = chain(count);
  same((await log.create(metaOf(caseId))).ok, true, 'the case is taken');
  for (const entry of entries) same((await log.append(caseId, entry)).ok, true, `entry ${entry.n} is taken`);
  return entries;
};

export const rules: Rule[] = [
  {
    name: 'an untouched log is empty',
    async run(open) {
      same(await (await open()).list(), [], 'list');
    },
  },
  {
    name: '[Z14] gives back every entry, field by field, in order of n, after closing and opening again',
    async run(open) {
      const log = await open();
      const meta = metaOf('one', { demo: true, overlay: { drills: [2.5, 3.2] } });
      same((await log.create(meta)).ok, true, 'create');
      const entries = chain(12);
      for (const entry of entries) same((await log.append('one', entry)).ok, true, 'append');
      await log.close();
      same(await (await open()).list(), [{ meta, entries }], 'list');
    },
  },
  {
    name: '[Z15] refuses a second entry with the same n, and keeps the first',
    async run(open) {
      const log = await open();
      const entries = await filled(log, 'one');
      const other = next(entries.slice(0, 2), { type: 'remark', text: 'another third entry' });
      const result = await log.append('one', other);
      same(result.ok, false, 'the other third entry');
      if (!result.ok) same(JSON.stringify(result.reason).includes('"entry-there"'), true, 'reason');
      same((await log.list())[0]?.entries, entries, 'list');
    },
  },
  {
    name: '[Z6] takes the very same entry again as recorded, and keeps it once',
    async run(open) {
      const log = await open();
      const entries = await filled(log, 'one');
      same((await log.create(metaOf('one'))).ok, true, 'the case again');
      same((await log.append('one', entries[2] as (typeof entries)[0])).ok, true, 'the third entry again');
      same((await log.list())[0]?.entries, entries, 'list');
    },
  },
  {
    name: 'refuses an entry for a case that was never opened, and a case opened twice',
    async run(open) {
      const log = await open();
      same((await log.append('nobody', next([]))).ok, false, 'append');
      await filled(log, 'one', 1);
      same((await log.create(metaOf('one', { contentVersion: '2027.1' }))).ok, false, 'create');
      same(
        (await log.list()).map((c) => [c.meta.contentVersion, c.entries.length]),
        [['2026.1', 1]],
        'list',
      );
    },
  },
  {
    name: 'keeps cases apart',
    async run(open) {
      const log = await open();
      await filled(log, 'one', 2);
      await filled(log, 'two', 4);
      same(
        (await log.list()).map((c) => [c.meta.caseId, c.entries.length]).sort(),
        [
          ['one', 2],
          ['two', 4],
        ],
        'list',
      );
    },
  },
  {
    name: '[Z22] a wiped case is gone, does not come back, and takes no more entries; the others stay',
    async run(open) {
      const log = await open();
      const entries = await filled(log, 'one');
      await filled(log, 'two');
      await log.remove('one');
      same(
        (await log.list()).map((c) => c.meta.caseId),
        ['two'],
        'list',
      );
      await log.close();
      const again = await open();
      same(
        (await again.list()).map((c) => c.meta.caseId),
        ['two'],
        'list after opening again',
      );
      same((await again.append('one', next(entries))).ok, false, 'append');
      same((await again.create(metaOf('one'))).ok, false, 'create');
      same((await again.append('two', next(entries))).ok, true, 'append to the other');
    },
  },
  {
    name: 'wiping twice, or wiping what never was, does no harm',
    async run(open) {
      const log = await open();
      await filled(log, 'one', 1);
      await log.remove('one');
      await log.remove('one');
      await log.remove('nobody');
      same(await log.list(), [], 'list');
    },
  },
  {
    name: 'writes called without waiting are kept in the order of the calls',
    async run(open) {
      const log = await open();
      await log.create(metaOf('one'));
      const entries = chain(20);
      const results = await Promise.all(entries.map((entry) => log.append('one', entry)));
      same(
        results.every((r) => r.ok),
        true,
        'results',
      );
      same((await log.list())[0]?.entries, entries, 'list');
    },
  },
];
