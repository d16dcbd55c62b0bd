import { tablets } from './looks.ts';
import { screensAt } from './screens-walk.ts';

screensAt(tablets.dark);
