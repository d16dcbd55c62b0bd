import { size } from './looks.ts';
import { secondScreensAt } from './second-screens-walk.ts';

secondScreensAt({
  name: '149 px per inch',
  viewport: size(1280, 800),
  others: [size(800, 1280)],
  pxPerMm: 149 / 25.4,
  theme: 'light',
  distance: 2,
  keeps: 'next-light',
  whole: true,
});
