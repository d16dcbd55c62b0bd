import { createMemo, type Accessor } from 'solid-js';
import type { MapScrew } from '../../pictures/ConstructMap.tsx';
import type { App } from '../app.ts';

/**
 * The screws of the open case as the map shows them. One whose stage has not changed stays the same object, and all of
 * them the same list: nothing is drawn anew under a finger.
 */
export function createMapScrews(app: App): Accessor<MapScrew[]> {
  return createMemo<MapScrew[]>((before) => {
    const now = Object.entries(app.view()?.screws ?? {}).map(([id, { stage }]) => {
      const { glance, label } = app.content().phrases.stages[stage];
      const same = before.find((screw) => screw.id === id && screw.stage === stage && screw.word === glance);
      return same ?? { id, stage, word: glance, label: app.w('map.screw', { screw: id, word: glance, stage: label }) };
    });
    return now.length === before.length && now.every((screw, i) => screw === before[i]) ? before : now;
  }, []);
}
