import { For } from 'solid-js';
import { Sheet } from '../../parts/Sheet.tsx';
import { ScrewTile } from '../../pictures/ConstructMap.tsx';
import { useApp } from '../app.ts';
import { createMapScrews } from './map-screws.ts';
import type { Table } from './state.ts';

/** Every screw as a touch, in its order along the metal, where the map has room for some of them only. */
export function ScrewsSheet(props: { table: Table; onClose: () => void }) {
  const app = useApp();
  const screws = createMapScrews(app);
  return (
    <Sheet title={app.w('table.call-one')} close={app.w('table.back')} onClose={() => props.onClose()}>
      <div class="screw-tiles">
        <For each={screws()}>
          {(screw) => (
            <ScrewTile
              screw={screw}
              called={props.table.called() === screw.id}
              onCall={(id) => void props.table.call(id)}
            />
          )}
        </For>
      </div>
    </Sheet>
  );
}
