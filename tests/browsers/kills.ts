/**
 * Kills a browser's process group at random moments while a page records entries without a pause, again and again on
 * one profile, and looks in every later start for every entry that had been acknowledged before.
 */
import { randomInt } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { launchChromium, launchFirefox, signalGroup } from './harness.ts';
import { serveLogPage } from './log-page.ts';
import type { logPage } from './pages/log.ts';

type Started = Awaited<ReturnType<typeof logPage.start>>;

export interface KillTally {
  kills: number;
  /** Entries that the page had been told were recorded. */
  acknowledged: number;
  /** Of those, entries acknowledged with one copy only. */
  oneCopy: number;
  /** Of those, entries missing, or behind a broken seal, in any later start. */
  lost: number;
  /** Wiped cases that came back. */
  revived: number;
  /** Entries that one copy had lost after they were acknowledged, and that the other gave back. */
  givenBack: Record<'database' | 'journal', number>;
  /** Starts at which one copy could not be read or brought up to date. */
  refused: number;
  disagreements: number;
  damaged: number;
}

/** Cases older than so many kills are wiped, so that the starts stay quick and wiping is killed into as well. */
const KEEP = 4;

/**
 * @param kills how many
 * @returns the tally, or null when the engine is not on this machine
 * @example await runKills('Chromium', 10) // { kills: 10, lost: 0, … }
 */
export async function runKills(
  name: 'Chromium' | 'Firefox',
  kills: number,
  tell: (line: string) => void = () => {},
): Promise<KillTally | null> {
  const site = await serveLogPage();
  const profile = await mkdtemp(join(tmpdir(), 'counterturn-kills-'));
  const tally: KillTally = {
    kills: 0,
    acknowledged: 0,
    oneCopy: 0,
    lost: 0,
    revived: 0,
    givenBack: { database: 0, journal: 0 },
    refused: 0,
    disagreements: 0,
    damaged: 0,
  };
  const recorded = new Map<string, number>();
  const wiped = new Set<string>();

  const launch = async () => {
    const engine = await (name === 'Chromium' ? launchChromium : launchFirefox)({ userDataDir: profile });
    if (!engine) return null;
    await engine.page.exposeFunction('acked', (caseId: string, n: number, copies: number) => {
      tally.acknowledged++;
      if (copies < 2) tally.oneCopy++;
      recorded.set(caseId, n);
    });
    await engine.open(site.url);
    const started = (await engine.evaluate('logPage.start()')) as Started;
    look(started);
    return engine;
  };
  const look = ({ held, report }: Started) => {
    for (const [caseId, n] of recorded) {
      const missing = Math.max(0, n - (held[caseId] ?? 0));
      if (missing)
        tell(`${caseId}: ${n} recorded, ${held[caseId] ?? 'none'} found; ${JSON.stringify(report).slice(0, 500)}`);
      tally.lost += missing;
      // Counted once: a later start must hold what this one still held.
      if (missing) recorded.set(caseId, n - missing);
    }
    tally.revived += [...wiped].filter((caseId) => caseId in held).length;
    for (const { caseId, entries, from } of report.restored) {
      // What was on its way when the kill came may be in one copy only: that is no loss.
      const underWay = Math.max(0, (held[caseId] ?? 0) - (recorded.get(caseId) ?? 0));
      tally.givenBack[from === 'journal' ? 'database' : 'journal'] += Math.max(0, entries - underWay);
    }
    for (const { copy, reason } of report.refused) tell(`start: ${copy} refused: ${reason.code}`);
    if (report.refused.length) tally.refused++;
    tally.disagreements += report.disagreements.length;
    tally.damaged += report.damaged.length;
  };

  try {
    for (let k = 0; k < kills; k++) {
      const engine = await launch();
      if (!engine) return null;
      const old = `case-${k - KEEP}`;
      if (recorded.has(old)) {
        const refusal = await engine.evaluate(`logPage.remove('${old}').then(() => null, String)`);
        if (refusal) tell(`${old}: ${refusal}`);
        recorded.delete(old);
        wiped.add(old);
      }
      engine.evaluate(`logPage.writeForever('case-${k}')`).catch(() => {});
      await new Promise((wake) => setTimeout(wake, randomInt(60, 900)));
      await signalGroup(profile, 'SIGKILL');
      tally.kills++;
      await engine.close().catch(() => {});
      if ((k + 1) % 10 === 0) tell(`${name}: ${JSON.stringify(tally)}`);
    }
    for (let start = 0; start < 2; start++) await (await launch())?.close();
    return tally;
  } finally {
    await site.close();
    await rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 300 });
  }
}
