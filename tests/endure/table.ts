/** A run of one part as a row of `ENDURE.md`. */
import { join } from 'node:path';
import { commit, today, writeRow as write } from '../rows.ts';

export interface Row {
  part: string;
  length: string;
  result: string;
  figures: string;
  seconds: string;
}

const intro = `# Endured

The long forms of the suites, each with the length it was last run in: where that is not the full one, it says so.
Written by \`npm run endure\`, one row for each part run. A plus behind the commit: changes not in it yet.
`;

export const writeRow = (row: Row): Promise<void> =>
  write(
    {
      path: join(import.meta.dirname, 'ENDURE.md'),
      intro,
      columns: ['part', 'length', 'result', 'figures', 's', 'date', 'commit'],
      words: 4,
    },
    [
      row.part,
      row.length,
      row.result,
      row.figures,
      row.seconds,
      today(),
      commit('content', 'machines', 'src', 'tests'),
    ],
  );
