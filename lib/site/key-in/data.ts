import type { Plan } from '../../batch/types/plan.ts';
import type { KeyInData } from '../../browser/key-in/data.ts';
import { formBlanks } from './form-view.ts';
import type { Opened } from './session.ts';

/** Targets that answers are held against while they are typed. */
const NEEDED: readonly (keyof Plan['targets'])[] = [
  'original_gravity',
  'final_gravity',
  'boil_start_gravity',
  'boil_end_gravity',
  'boil_start_volume_hot_l',
  'boil_end_volume_hot_l',
  'top_up_l',
];

/** What the page's own script needs, as JSON that is safe inside a script element. Nothing private is in it. */
export function pageData(
  session: Opened,
  { mode, keeps }: Pick<KeyInData, 'mode' | 'keeps'>,
  names: ReadonlyMap<string, string> | null = null,
): string {
  const { batch, plan, brewery, raw, slug } = session;
  const data: KeyInData = {
    mode,
    keeps,
    slug,
    units: brewery.units,
    batch: { ...batch, notes: '', tags: [], basedOn: null },
    targets: Object.fromEntries(
      Object.entries(plan.targets).map(([key, figure]) => [
        key,
        NEEDED.some((needed) => needed === key) && figure ? { ...figure, contributors: [] } : null,
      ]),
    ) as unknown as Plan['targets'],
    raw: { readings: raw.readings ?? {} },
    ids: Object.fromEntries(formBlanks(session).map(({ key, id }) => [names?.get(key) ?? id, key])),
  };
  return JSON.stringify(data).replaceAll(
    /[<>&\u2028\u2029]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
