export { methodSteps } from '../../view/method.ts';
