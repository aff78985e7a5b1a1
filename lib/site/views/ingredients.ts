export { ingredientGroups } from '../../view/ingredients.ts';
