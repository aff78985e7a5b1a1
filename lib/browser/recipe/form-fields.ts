import type { Units } from '../../units/dimension.ts';
import {
  ALPHA_LIMITS,
  type Changes,
  FIGURE_NAMES,
  FIGURES,
  type FigureName,
  type FormScale,
  oneOf,
  packets,
  settled,
  stated,
  type TravelData,
} from './changes.ts';

/** One number that a friend can change, in the units of the page. */
export interface FormField {
  /** `kettle_L`, or `alpha-0` for the first packet of hops. */
  readonly name: string;
  readonly label: string;
  /** One of the questions that are asked first. */
  readonly first: boolean;
  readonly unit: string;
  /** As it is in the box. */
  readonly value: string;
  readonly min: string;
  readonly max: string;
  readonly step: string;
  /** `0.5 to 200 L`. */
  readonly range: string;
}

const ALPHA: FormScale = { unit: '%', size: 0.01, decimals: 1 };

const shown = (value: number, scale: FormScale): string =>
  String(Number((value / scale.size).toFixed(scale.decimals)));

function field(
  name: string,
  label: string,
  value: number,
  scale: FormScale,
  limits: { readonly low: number; readonly high: number },
): FormField {
  const size = 10 ** scale.decimals;
  const min = String(Math.ceil((limits.low / scale.size) * size) / size);
  const max = String(Math.floor((limits.high / scale.size) * size) / size);
  return {
    name,
    label,
    first: name === 'intoFermenter_L' || name === 'kettle_L',
    unit: scale.unit,
    value: shown(value, scale),
    min,
    max,
    step: 'any',
    range: `${min.replace('-', '−')} to ${max}\u00a0${scale.unit}`,
  };
}

/** Every number of the form, as the changes have it and else as the author does. */
export function formFields(data: TravelData, changes: Changes): readonly FormField[] {
  const units = changes.units ?? data.brewery.units;
  return [
    ...FIGURE_NAMES.map((name) => {
      const { label, scale, of, ...limits } = FIGURES[name];
      return field(name, label, changes[name] ?? of(data.batch), scale[units], limits);
    }),
    ...packets(data.batch.recipe).map((packet, index) =>
      field(
        `alpha-${index}`,
        `${packet.name}, alpha acids`,
        changes.alphas?.[index] ?? packet.alpha,
        ALPHA,
        ALPHA_LIMITS,
      ),
    ),
  ];
}

/** What is wrong with the text in a box, and which figures it takes. */
export const wrongWords = ({ label, unit, range }: FormField, text: string): string =>
  text.trim() === ''
    ? `${label}: a figure of ${range} is needed.`
    : `${label}: ${text.trim()}\u00a0${unit} is not possible, only ${range}.`;

/** True where the recipe has extract that the other kind could take the place of. */
export function offersExtract({ batch, extracts }: TravelData, to: 'liquid' | 'dry'): boolean {
  const other = to === 'dry' ? 'liquid' : 'dry';
  return (
    extracts[to] !== null &&
    batch.recipe.extract.some((item) => item.form === other && item.bitterness === null)
  );
}

/** What is in the boxes and lists of the form, by their names. */
export type FormValues = Readonly<Record<string, string>>;

export interface ReadForm {
  readonly changes: Changes;
  /** Names of boxes that hold no figure of a kitchen. */
  readonly wrong: readonly string[];
}

/**
 * What a form asks to be changed: boxes that still hold the author's figure ask for nothing.
 *
 * @param units the units that the boxes were filled in, which a list of the form may be about to change
 */
export function readForm(data: TravelData, values: FormValues, units: Units, before: Changes): ReadForm {
  const wrong: string[] = [];
  const read = (
    name: string,
    author: number,
    kept: number | undefined,
    scale: FormScale,
    limits: { readonly low: number; readonly high: number },
  ): number | undefined => {
    const text = values[name];
    if (text === undefined || text === shown(author, scale)) return undefined;
    // A box that was not touched keeps its figure, whatever its units have rounded away.
    if (kept !== undefined && text === shown(kept, scale)) return kept;
    const value = settled(Number(text.replace(',', '.')) * scale.size);
    if (text.trim() === '' || !(value >= limits.low && value <= limits.high)) {
      wrong.push(name);
      return kept;
    }
    return value;
  };
  const figures: Partial<Record<FigureName, number>> = {};
  for (const name of FIGURE_NAMES) {
    const { scale, of, ...limits } = FIGURES[name];
    const value = read(name, of(data.batch), before[name], scale[units], limits);
    if (value !== undefined) figures[name] = value;
  }
  const alphas: Record<number, number> = {};
  packets(data.batch.recipe).forEach((packet, index) => {
    const value = read(`alpha-${index}`, packet.alpha, before.alphas?.[index], ALPHA, ALPHA_LIMITS);
    if (value !== undefined) alphas[index] = value;
  });
  const extract = oneOf(values.extract, ['liquid', 'dry']);
  const asked = oneOf(values.units, ['metric', 'us']);
  const paper = oneOf(values.paper, ['a4', 'letter']);
  return {
    wrong,
    changes: stated({
      ...figures,
      alphas,
      extract,
      units: asked === data.brewery.units ? undefined : asked,
      paper: paper === data.brewery.paper ? undefined : paper,
    }),
  };
}
