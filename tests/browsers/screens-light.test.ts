import { size } from './looks.ts';
import { screensAt } from './screens-walk.ts';

screensAt({
  name: '149 px per inch',
  viewport: size(1280, 800),
  others: [size(800, 1280)],
  pxPerMm: 149 / 25.4,
  theme: 'light',
  distance: 2,
});
