/** What a rehearsal can reach: nothing that it is made of opens a store, keeps a setting or tells another window. */
import { describe, expect, it } from 'vitest';
import { importsOf, read } from './floors.code.ts';

/** What a file imports as it runs: shapes alone are gone by then. */
const imports = (path: string) => importsOf(path, read(path).replace(/^import type [^;]*;/gm, ''));

/** Every file that these import, however far down and however late. */
function reached(...from: string[]): string[] {
  const seen = new Set(from);
  for (const path of seen) if (/\.tsx?$/.test(path)) for (const to of imports(path)) seen.add(to);
  return [...seen].sort();
}
const session = reached('src/session/rehearsal.ts', 'src/session/plan.ts');
const screens = reached('src/screens/rehearsal/Rehearsal.tsx');
/** Opens a database, a file, a lock or a line to other windows. */
const opens = /\b(indexedDB|localStorage|sessionStorage|navigator\.(?:storage|locks)|BroadcastChannel|idb-keyval)\b/;

describe('a rehearsal', () => {
  it('is looked at whole', () => {
    expect(session).toContain('src/session/session.ts');
    expect(screens).toEqual(expect.arrayContaining(['src/screens/table/MoreSheets.tsx', 'src/screens/Glance.tsx']));
  });

  it('has of the stores the queue of writes alone', () => {
    const stores = (paths: readonly string[]) => paths.filter((path) => path.startsWith('src/store/'));
    expect(stores(session)).toEqual(['src/store/serial-queue.ts']);
    expect(stores(screens)).toEqual(['src/store/serial-queue.ts']);
  });

  it('has a session that reaches nothing of the device', () => {
    expect(session.filter((path) => path.startsWith('src/device/'))).toEqual([]);
    expect(session.filter((path) => opens.test(read(path)))).toEqual([]);
  });

  it('has screens that reach settings of the device alone, behind touches that are closed in it', () => {
    expect(screens.filter((path) => opens.test(read(path)))).toEqual([
      'src/device/kept.ts',
      'src/session/department.ts',
    ]);
  });

  it('is given no log and no session: it makes its own', () => {
    const text = read('src/session/rehearsal.ts');
    expect(text).toMatch(/export function createRehearsal\(plan: Plan, seed: number, nowMs: \(\) => number\)/);
    expect(read('src/screens/rehearsal/Rehearsal.tsx')).not.toMatch(/useApp/);
  });
});
