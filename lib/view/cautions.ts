import type { Batch } from '../batch/batch.ts';
import { listed } from './words.ts';

/** A caution as it stands before its step: what is dangerous, what it does, how it is avoided. No step hides in it. */
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
    hazard: 'Flame, scalding liquid, gas under pressure, alcohol.',
    consequence: 'Each can injure.',
    avoid: 'Follow your appliance’s instructions, every label and local rules first. Adults only.',
  },
  carbonMonoxide: {
    id: 'carbonMonoxide',
    hazard: 'A burner in a closed room makes carbon monoxide.',
    consequence: 'It has no smell and kills.',
    avoid: 'Camping and outdoor burners stay outdoors. At a stove: hood on, window open.',
  },
  closedCan: {
    id: 'closedCan',
    hazard: 'A closed can or jar bursts when heated.',
    consequence: 'Burns and cuts.',
    avoid: 'Open it or loosen its lid first; warm it in hot water, off the heat.',
  },
  boilOver: {
    id: 'boilOver',
    hazard: 'Boiling wort foams over and scalds; it can put a gas flame out.',
    consequence: 'Burns, fire, escaping gas.',
    avoid: 'Never leave it. Children and pets away. Heat down when foam climbs.',
  },
  fullPot: {
    id: 'fullPot',
    hazard: 'A full hot pot slips, tips and splashes.',
    consequence: 'Deep burns.',
    avoid: 'Never lift a full hot pot. Let it cool or empty it in parts.',
  },
  hotGlass: {
    id: 'hotGlass',
    hazard: 'Glass cracks when hot wort or ice touches it.',
    consequence: 'Scalds and cuts.',
    avoid: 'Nothing hot and no ice in or against glass.',
  },
  sanitiser: {
    id: 'sanitiser',
    hazard: 'Sanitiser burns skin and eyes; mixed with other cleaners it can give off poisonous gas.',
    consequence: 'Injury.',
    avoid: 'Dose, gloves and contact time as its label says. Never mix.',
  },
  airlock: {
    id: 'airlock',
    hazard: 'A sealed fermenter bursts; its gas fills closed rooms.',
    consequence: 'Injury, suffocation.',
    avoid: 'Always an airlock. Air the room. Feeling dizzy: out at once.',
  },
  spentHops: {
    id: 'spentHops',
    hazard: 'Hops, spent ones too, are poisonous to dogs.',
    consequence: 'They can kill within hours.',
    avoid: 'Into a closed bin; seen eating them, call a vet.',
  },
  bottles: {
    id: 'bottles',
    hazard: 'Bottles burst from too much sugar or unfinished beer.',
    consequence: 'Flying glass.',
    avoid: 'Every tick above first. Only whole bottles made for pressure. Store boxed and cool.',
  },
  keg: {
    id: 'keg',
    hazard: 'Gas bottles and kegs hold high pressure.',
    consequence: 'Burst parts, suffocation.',
    avoid: 'Rated regulator and relief valve; release pressure before opening; air the room.',
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
