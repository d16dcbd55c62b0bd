import { expect, it } from 'vitest';
import { times } from '../lengths.ts';
import { runKills } from './kills.ts';

const kills = times(20);

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
