import type { Batch } from '../batch/types/batch.ts';
import { listed } from './words.ts';

/** A caution as it is shown before its step: what is dangerous, what it does, how it is avoided. No step hides in it. */
export interface Caution {
  readonly id: string;
  readonly hazard: string;
  readonly consequence: string;
  readonly avoid: string;
}

/** The usual cautions of brewing at home, common practice; labels, local rules and licensed trades come first. */
export const CAUTIONS = {
  rules: {
    id: 'rules',
    hazard: 'Heat, pressure and alcohol',
    consequence: 'can injure:',
    avoid:
      'your appliance’s instructions, every label and local rules come first. Adults only; children and pets away.',
  },
  carbonMonoxide: {
    id: 'carbonMonoxide',
    hazard: 'Carbon monoxide',
    consequence: 'kills unnoticed:',
    avoid: 'hood on, window open; camp stoves outdoors.',
  },
  closedCan: {
    id: 'closedCan',
    hazard: 'A closed can',
    consequence: 'bursts when heated:',
    avoid: 'open it first, then warm it in hot water.',
  },
  boilOver: {
    id: 'boilOver',
    hazard: 'A boil-over',
    consequence: 'burns, puts out gas:',
    avoid: 'stay by it, no tight lid, heat down as foam climbs.',
  },
  hotWort: {
    id: 'hotWort',
    hazard: 'Hot wort',
    consequence: 'scalds, and glass cracks:',
    avoid: 'never lift a full hot pot or a full glass fermenter; nothing hot and no ice in glass.',
  },
  sanitiser: {
    id: 'sanitiser',
    hazard: 'Sanitiser',
    consequence: 'burns skin and eyes; mixed with another cleaner it can give off poison gas.',
    avoid: 'As its label says, never mixed.',
  },
  airlock: {
    id: 'airlock',
    hazard: 'A sealed fermenter',
    consequence: 'bursts, its gas suffocates:',
    avoid: 'always an airlock; air the room.',
  },
  spentHops: {
    id: 'spentHops',
    hazard: 'Hops, spent ones too,',
    consequence: 'can kill a dog:',
    avoid: 'into a closed bin at once; if eaten, call a vet.',
  },
  bottles: {
    id: 'bottles',
    hazard: 'Bottles',
    consequence: 'burst and throw glass: too much sugar, or unfinished beer.',
    avoid:
      'Only whole bottles made for pressure; store them boxed and cool. Never lift a full glass fermenter.',
  },
  keg: {
    id: 'keg',
    hazard: 'Gas bottles and kegs',
    consequence: 'burst, and their gas suffocates.',
    avoid: 'Rated regulator and relief valve; let pressure off before opening; air the room.',
  },
} as const satisfies Record<string, Caution>;

/** Every allergen of the recipe, once each, in the order of the recipe. */
export function allergens(batch: Batch): readonly string[] {
  const { grain, extract, sugar, other } = batch.recipe;
  const all = [...grain, ...extract, ...sugar, ...other].flatMap((item) => item.allergens);
  return [...new Set(all)];
}

/** The line on allergens and alcohol that goes wherever the beer may be handed on. */
export function handingOnLine(batch: Batch): string {
  const named = allergens(batch);
  const contains =
    named.length === 0 ? 'Allergens: read every label' : `Contains ${listed(named)}; read every label`;
  return `${contains}. Adults only. Home brewing and its limits are a matter of local law.`;
}
