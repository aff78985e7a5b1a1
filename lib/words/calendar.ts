import type { TimetableRow } from '../batch/types/acts.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import { taken } from '../batch/types/readings.ts';
import { recipeItems } from '../batch/types/recipe.ts';
import { dateAfter } from '../batch/types/time.ts';
import { breaking } from '../units/format/format.ts';
import { type CalendarEntry, calendarText, minutesAfter } from './calendar-text.ts';
import { expectedWords } from './ferment-words.ts';
import { endJudgment, judgmentLine } from './judgments.ts';
import type { Voice } from './measures.ts';
import { itemWords, PHASE_TITLES, rowSentence, spelled } from './words.ts';

/** Bottles take about so long to carbonate and clear, kegs to take up their gas. Common practice, no source. */
const ASSUMED_CONDITIONING_DAYS = { bottles: 14, keg: 7 } as const;
/** The last step of a brew day takes about so long, min. */
const ASSUMED_LAST_STEP_MIN = 15;
const DAY_MIN = 1440;

const hasRows = (rows: readonly unknown[] | 'not taken' | undefined): boolean =>
  rows !== undefined && rows !== 'not taken' && rows.length > 0;

/** Whether a batch has days ahead: it has one to brew on, was not given up, and nobody has tasted it. */
export const hasCalendar = ({ brewed, readings }: Batch): boolean =>
  brewed !== null && readings.abandoned === undefined && !hasRows(readings.tasted);

/**
 * Everything of a batch that has a day or an hour, as an iCalendar file: the steps of the brewing day, the next reading, dry
 * hops, bottling, and the day from which to drink it. What has been read moves what comes after it. Null where the batch has
 * no brewing day yet, was given up or tasted. The same plan gives the same bytes.
 *
 * @param host of the site, for identifiers; null where it has none
 */
export function batchCalendar(batch: Batch, plan: Plan, host: string | null, voice: Voice): string | null {
  const { brewed } = batch;
  if (brewed === null || !hasCalendar(batch)) return null;
  const entries = [
    ...brewDay(batch, plan, brewed, voice),
    ...inTheFermenter(batch, voice),
    ...nextReadings(batch, plan, voice),
    ...packaging(batch, plan),
    ...drinking(batch, plan),
  ];
  const head = { slug: batch.slug, title: batch.title, host: host ?? 'kettleside.invalid', stamp: brewed };
  return calendarText(head, entries);
}

const day = (name: string, date: string, summary: string, description = ''): CalendarEntry => ({
  name,
  summary,
  description,
  date,
  clock: null,
  until: null,
});

function brewDay(batch: Batch, plan: Plan, brewed: string, voice: Voice): readonly CalendarEntry[] {
  if (isPitched(batch)) return [];
  const before = plan.timetable.filter(({ minute }) => minute <= -DAY_MIN / 2);
  const early =
    before.length === 0
      ? []
      : [
          day(
            'ready',
            dateAfter(brewed, -1),
            `Get ready to brew ${batch.title}`,
            before.map((row) => rowSentence(row, voice)).join('\n'),
          ),
        ];
  const steps = batch.start === null ? [] : stepsOf(batch, plan, brewed, batch.start, voice);
  return steps.length === 0 ? [...early, day('brew', brewed, `Brew ${batch.title}`)] : [...early, ...steps];
}

/** One entry a phase, from its first row to the first row of the next; the boil says what goes in when. */
function stepsOf(
  batch: Batch,
  plan: Plan,
  brewed: string,
  start: string,
  voice: Voice,
): readonly CalendarEntry[] {
  const rows = plan.timetable.filter(({ minute, phase }) => minute >= 0 && phase !== 'gather');
  const groups: TimetableRow[][] = [];
  for (const row of rows) {
    const last = groups.at(-1);
    if (last?.[0]?.phase === row.phase) last.push(row);
    else groups.push([row]);
  }
  return groups.flatMap((group, index): readonly CalendarEntry[] => {
    const [first] = group;
    if (first === undefined) return [];
    const next = groups[index + 1]?.[0]?.minute ?? (group.at(-1)?.minute ?? 0) + ASSUMED_LAST_STEP_MIN;
    const at = minutesAfter(brewed, start, first.minute);
    const lines = group.map((row) => {
      const left = row.minutes_left === null ? '' : `${Math.round(row.minutes_left)} min left: `;
      return `${left}${rowSentence(row, voice)}`;
    });
    return [
      {
        name: `step-${index + 1}-${first.phase}`,
        summary: `${PHASE_TITLES[first.phase]}: ${batch.title}`,
        description: lines.join('\n'),
        ...at,
        until: minutesAfter(brewed, start, Math.max(next, first.minute + 1)),
      },
    ];
  });
}

/** When the yeast went in, or is planned to. */
function pitchedAt({ brewed, readings }: Batch): { readonly date: string; readonly clock: string | null } {
  return taken(readings.pitched)?.on ?? { date: brewed ?? '', clock: null };
}

/** Hops, spices and sugar that go in after pitching, and hops that come out again. */
function inTheFermenter(batch: Batch, { units, language }: Voice): readonly CalendarEntry[] {
  if (isPackaged(batch)) return [];
  const pitched = pitchedAt(batch);
  return recipeItems(batch.recipe).flatMap((item): readonly CalendarEntry[] => {
    const { add, name } = item;
    if (add.at !== 'dry' && add.at !== 'fermenter') return [];
    const into = dateAfter(pitched.date, add.day);
    const what = itemWords(item, units);
    const summary = add.at === 'dry' ? `Dry hop ${batch.title}` : `Add to ${batch.title}`;
    const description = `${what}. ${spelled('Wash and sanitise', language)} whatever touches the beer.`;
    const id = `${item.kind === 'hops' ? 'hop' : item.kind}-${item.index + 1}`;
    const entry = day(`${id}-in`, into, `${summary}: ${what}`, description);
    if (add.at !== 'dry' || add.for_min === null) return [entry];
    const out = dateAfter(into, Math.round(add.for_min / DAY_MIN));
    return [entry, day(`${id}-out`, out, `Take out of ${batch.title}: ${name}`)];
  });
}

const isPackaged = ({ readings }: Batch): boolean => (taken(readings.packaged) ?? []).length > 0;
/** The day at the kettle is over: what it was to be is no longer anybody's appointment. */
const isPitched = (batch: Batch): boolean =>
  taken(batch.readings.pitched) !== null ||
  (taken(batch.readings.fermentation) ?? []).length > 0 ||
  isPackaged(batch);

/** Last day of the planned fermentation; null without a day, or where the recipe does not say how long it takes. */
function fermentedOn(batch: Batch): string | null {
  const minutes = batch.recipe.ferment.reduce((sum, step) => sum + step.time_min.value, 0);
  const { date } = pitchedAt(batch);
  return minutes === 0 || date === '' ? null : dateAfter(date, Math.round(minutes / DAY_MIN));
}

/** Days for which readings must agree. */
const flatDays = ({ finish }: Plan): number => finish?.days ?? 3;

/** The reading that is due; before there is a log, two that are far enough apart to show that it has finished. */
function nextReadings(batch: Batch, plan: Plan, voice: Voice): readonly CalendarEntry[] {
  if (isPackaged(batch)) return [];
  const state = plan.fermentation ?? null;
  if (state !== null) {
    return state.next === null
      ? []
      : [day('reading', state.next, `Read the gravity of ${batch.title}`, readingWords(batch, plan, voice))];
  }
  const end = fermentedOn(batch);
  const apart = flatDays(plan);
  if (end === null) return [];
  const why = `Finished only when two readings at least ${apart} days apart agree and are as low as expected.`;
  return [
    day('reading-1', dateAfter(end, -apart), `Read the gravity of ${batch.title}`, why),
    day('reading-2', end, `Read the gravity of ${batch.title} again`, why),
  ];
}

/** The verdict, and what to expect by the curve. */
function readingWords(batch: Batch, plan: Plan, voice: Voice): string {
  const said = endJudgment(plan);
  const verdict = said === null ? '' : breaking(judgmentLine(said, voice));
  const lead = expectedWords(batch, plan, voice.language)?.lead;
  return lead === undefined ? verdict : `${verdict} ${breaking(lead)}`;
}

/**
 * The planned last day, or later: never before the reading that is due, nor before readings could agree for long enough after the
 * latest day on which the curve lets a fall still show.
 */
function packagingDay(batch: Batch, plan: Plan): string | null {
  const planned = fermentedOn(batch);
  const { fermentation, fermentation_curve } = plan;
  if (planned === null || fermentation?.state === 'finished') return planned;
  const latest = fermentation_curve?.end_day?.latest ?? null;
  const flat = latest === null ? null : dateAfter(latest, flatDays(plan));
  return [planned, fermentation?.next ?? planned, flat ?? planned].sort().at(-1)!;
}

function packaging(batch: Batch, plan: Plan): readonly CalendarEntry[] {
  const end = packagingDay(batch, plan);
  const kinds = new Set(batch.recipe.packaging.map(({ into }) => into));
  if (isPackaged(batch) || end === null || kinds.size === 0) return [];
  const act = kinds.size === 2 ? 'Bottle and keg' : kinds.has('keg') ? 'Keg' : 'Bottle';
  const caution =
    'Only if it has finished: two readings agree and are as low as expected. Bottles burst when beer still ferments in them or has too much sugar; the sugar for the volume and temperature is on the cellar sheet.';
  return [day('packaging', end, `${act} ${batch.title}, if it has finished`, caution)];
}

/** The day from which a beer can be drunk: from the packaging that was read, else the planned one; null where neither is known. */
export function drinkableOn(batch: Batch, plan: Plan): string | null {
  const read = taken(batch.readings.packaged) ?? [];
  const from =
    read
      .map(({ on }) => on.date)
      .sort()
      .at(-1) ?? packagingDay(batch, plan);
  if (from === null || batch.recipe.packaging.length === 0) return null;
  return dateAfter(from, ASSUMED_CONDITIONING_DAYS[isBottled(batch) ? 'bottles' : 'keg']);
}

const isBottled = ({ recipe }: Batch): boolean => recipe.packaging.some(({ into }) => into === 'bottles');

function drinking(batch: Batch, plan: Plan): readonly CalendarEntry[] {
  const from = drinkableOn(batch, plan);
  if (from === null) return [];
  const caution = isBottled(batch) ? 'Chill one bottle and open it with care before the others.' : '';
  return [day('drink', from, `${batch.title} can be drunk from today`, caution)];
}
