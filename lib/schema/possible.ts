export { AMOUNT, type Bounds, POSSIBLE } from '../units/possible.ts';
