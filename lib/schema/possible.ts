export { AMOUNT, type Bounds, POSSIBLE, USUAL } from '../units/possible.ts';
