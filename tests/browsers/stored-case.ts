/** A whole case put where the app keeps its cases. */
import type { Page } from 'playwright-core';
import type { Entry } from '../../machines/entry.ts';
import { gatherable, type DatabaseRow, rowOf } from '../../src/store/indexeddb/rows.ts';

/** Rows that stand singly: what is recorded in a busy minute. All before them are gathered, as the app does it. */
const single = 32;

function lying(entries: readonly Entry[]): DatabaseRow<Entry>[] {
  const rows = entries.map((entry) => rowOf('', entry));
  const [run] = gatherable(rows.slice(0, -single));
  return run ? [run.row, ...rows.filter(({ n }) => n > run.to)] : rows;
}

/** Puts a whole case into the app's database, where the next start finds it, resumes it and heals the other copy. */
export const store = (page: Page, contentVersion: string, entries: readonly Entry[]) =>
  page.evaluate(
    async ({ contentVersion: version, rows }) => {
      const db = await new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open('counterturn');
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error ?? new Error('given up without a reason'));
      });
      const tx = db.transaction(['cases', 'entries'], 'readwrite');
      const caseId = crypto.randomUUID();
      const created = rows[0]?.entry.at;
      tx.objectStore('cases').add({ caseId, contentVersion: version, demo: true, created });
      for (const row of rows) tx.objectStore('entries').add({ ...row, caseId });
      await new Promise((resolve, reject) => {
        tx.oncomplete = resolve;
        tx.onabort = () => reject(tx.error ?? new Error('given up without a reason'));
      });
      db.close();
    },
    { contentVersion, rows: lying(entries) },
  );
