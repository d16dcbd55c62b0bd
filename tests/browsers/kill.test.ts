import { expect, it } from 'vitest';
import { runKills } from './kills.ts';

it(
  '[Z14] ten kills at random moments while recording: no acknowledged entry is lost, two starts later',
  { timeout: 300_000 },
  async (task) => {
    const tally = await runKills('Chromium', 10, console.info);
    if (!tally) return task.skip('Chromium skipped: not on this machine');
    console.info(
      `kills ${tally.kills}, entries acknowledged ${tally.acknowledged}, lost ${tally.lost}, given back by the other copy ${JSON.stringify(tally.givenBack)}`,
    );
    expect(tally.kills).toBe(10);
    expect(tally.acknowledged).toBeGreaterThan(50);
    expect([tally.lost, tally.revived]).toEqual([0, 0]);
  },
);
