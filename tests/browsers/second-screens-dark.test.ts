import { size } from './looks.ts';
import { secondScreensAt } from './second-screens-walk.ts';

secondScreensAt({
  name: '132 px per inch',
  viewport: size(1180, 820),
  others: [size(1280, 800), size(1024, 768), size(820, 1180)],
  pxPerMm: 132 / 25.4,
  theme: 'dark',
  distance: 3,
  keeps: 'next-dark',
  whole: true,
});
