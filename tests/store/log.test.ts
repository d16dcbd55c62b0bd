import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../src/store/indexeddb/log.ts';
import { openJournal } from '../../src/store/opfs/journal.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { LogPort } from '../../src/store/port.ts';
import { openMirroredLog } from '../../src/store/mirrored-log.ts';
import { rules } from './acceptance.ts';
import { files, gathering, simulatedWorker } from './simulated.ts';

/** Each opens its own fresh store, again and again the same one. */
const logs: Record<string, () => () => Promise<LogPort>> = {
  memory: () => {
    const log = openMemory();
    return async () => log;
  },
  'database (simulated)': () => {
    const factory = new IDBFactory();
    return async () => openDatabase({ factory });
  },
  'database whose rows are gathered after every write (simulated)': () => {
    const factory = new IDBFactory();
    return async () => gathering({ factory });
  },
  'journal (simulated files)': () => {
    const slots = files();
    return async () => openJournal({ makeWorker: () => simulatedWorker(slots) });
  },
  'both copies (simulated)': () => {
    const [slots, factory] = [files(), new IDBFactory()];
    return async () =>
      (
        await openMirroredLog({
          database: openDatabase({ factory }),
          journal: openJournal({ makeWorker: () => simulatedWorker(slots) }),
        })
      ).log;
  },
};

for (const [name, fresh] of Object.entries(logs))
  describe(`the log in ${name}`, () => {
    for (const rule of rules) it(rule.name, () => rule.run(fresh()));
  });

describe('the rules themselves', () => {
  const broken = (rule: number, spoil: (log: LogPort) => Partial<LogPort>) => {
    const log = openMemory();
    return rules[rule]?.run(async () => ({ ...log, ...spoil(log) }));
  };

  it('catch a log that loses its last entry', async () => {
    const lossy = broken(1, (log) => ({
      list: async () => (await log.list()).map((c) => ({ ...c, entries: c.entries.slice(0, -1) })),
    }));
    await expect(lossy).rejects.toThrow('list');
  });

  it('catch a log that says yes to a second entry with the same n', async () => {
    const yes = broken(2, () => ({ append: async () => ({ ok: true, copies: 1 }) }));
    await expect(yes).rejects.toThrow('the other third entry');
  });

  it('catch a log whose wiped case comes back', async () => {
    await expect(broken(6, () => ({ remove: async () => {} }))).rejects.toThrow('list');
  });
});
