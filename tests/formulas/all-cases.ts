import * as bitterness from './bitterness.cases.ts';
import * as boiling from './boiling.cases.ts';
import type { CaseTable } from './case.ts';
import * as co2 from './co2.cases.ts';
import * as colour from './colour.cases.ts';
import * as density from './density.cases.ts';
import * as fermentation from './fermentation.cases.ts';
import * as fermentationCurve from './fermentation-curve.cases.ts';
import * as gravity from './gravity.cases.ts';
import * as heat from './heat.cases.ts';
import * as hydrometer from './hydrometer.cases.ts';
import * as mixing from './mixing.cases.ts';
import * as refractometer from './refractometer.cases.ts';
import * as shrinkage from './shrinkage.cases.ts';
import * as yeast from './yeast.cases.ts';

/** Every file of cases, in the order in which a brew day meets them. */
export const caseFiles: Readonly<Record<string, readonly CaseTable[]>> = {
  density: density.tables,
  gravity: gravity.tables,
  hydrometer: hydrometer.tables,
  refractometer: refractometer.tables,
  mixing: mixing.tables,
  shrinkage: shrinkage.tables,
  heat: heat.tables,
  boiling: boiling.tables,
  bitterness: bitterness.tables,
  colour: colour.tables,
  fermentation: fermentation.tables,
  'fermentation curve': fermentationCurve.tables,
  yeast: yeast.tables,
  co2: co2.tables,
};
