import { size } from './looks.ts';
import { screensAt } from './screens-walk.ts';

screensAt({
  name: '132 px per inch',
  viewport: size(1180, 820),
  others: [size(1280, 800), size(1024, 768), size(820, 1180)],
  pxPerMm: 132 / 25.4,
  theme: 'dark',
  distance: 3,
});
