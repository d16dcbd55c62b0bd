import { expect, it } from 'vitest';
import { times } from '../lengths.ts';
import { runImportKills } from './import-kills.ts';
import { runKills } from './kills.ts';

const kills = times(10);

it(
  `[Z14] ${kills} kills at random moments while recording: no acknowledged entry is lost, two starts later`,
  { timeout: 30_000 * kills },
  async (task) => {
    const tally = await runKills('Chromium', kills, console.info);
    if (!tally) return task.skip('Chromium skipped: not on this machine');
    console.info(
      `kills ${tally.kills}, entries acknowledged ${tally.acknowledged}, lost ${tally.lost}, given back by the other copy ${JSON.stringify(tally.givenBack)}`,
    );
    expect(tally.kills).toBe(kills);
    expect(tally.acknowledged).toBeGreaterThan(5 * kills);
    expect([tally.lost, tally.revived]).toEqual([0, 0]);
  },
);

const importKills = times(4);

it(
  `[Z14] ${importKills} kills at random moments while cases are brought in: all of a case is there or nothing of it`,
  { timeout: 60_000 * (importKills + 2) },
  async (task) => {
    const tally = await runImportKills(importKills, console.info);
    if (!tally) return task.skip('Chromium skipped: not on this machine');
    console.info(
      `kills ${tally.kills}, of them in the middle of a case ${tally.inside}, cases stored ${tally.stored}, half there ${tally.half}, lost ${tally.lost}`,
    );
    expect(tally.kills).toBe(importKills);
    // Between two cases there is a moment that is in neither.
    expect(tally.inside).toBeGreaterThan(importKills / 2);
    expect(tally.stored).toBeGreaterThanOrEqual(Math.floor(importKills / 2));
    expect([tally.half, tally.lost]).toEqual([0, 0]);
  },
);
