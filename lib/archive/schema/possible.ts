export { AMOUNT, type Bounds, POSSIBLE, USUAL } from '../../units/parse/possible.ts';
