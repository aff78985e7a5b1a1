/** All that is said of a reading comes from one judgment: page, plan, calendar, sheet, form and terminal say the same. */
import { describe, expect, it } from 'vitest';
import { placeOf } from '../../lib/batch/types/places.ts';
import { cellarSheet } from '../../lib/paper/cellar.ts';
import { loadSite } from '../../lib/site/archive.ts';
import { verdictOf } from '../../lib/site/key-in/outcome.ts';
import { batchView } from '../../lib/site/pages/batch-view.ts';
import { planJson } from '../../lib/site/plan-json.ts';
import { publish } from '../../lib/site/site.ts';
import { batchCalendar, hasCalendar } from '../../lib/words/calendar.ts';
import { endJudgment, isOfBottles, judgmentLine, judgmentWords } from '../../lib/words/judgments.ts';

const { content } = await loadSite('content');
const { units } = content.brewery;
const site = publish(content);
const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const marked = content.entries.filter(({ plan }) => plan.judgments.some(({ level }) => level !== 'calm'));

describe('the demo archive', () => {
  it('has three batches with a mark: a gravity that does not fit, and two bottled on too few readings', () => {
    const found = marked.map(({ batch, plan }) => [
      batch.slug,
      ...plan.judgments.filter(({ level }) => level !== 'calm').map(({ key, level }) => `${key}: ${level}`),
    ]);
    expect(found).toEqual([
      ['bramble-ale', 'boil_start_gravity: look again'],
      ['first-water', 'final_gravity: look again'],
      ['lock-house-wit', 'final_gravity: look again'],
    ]);
    const bottles = content.entries
      .flatMap(({ plan }) => plan.bottles ?? [])
      .filter(({ level }) => level !== 'calm');
    expect(bottles.map(({ level, grade }) => [level, grade])).toEqual([
      ['look again', 'C'],
      ['look again', 'C'],
    ]);
  });

  it.each(content.entries.map((entry) => [entry.batch.slug, entry] as const))(
    '%s speaks with one voice',
    (_, entry) => {
      const { batch, plan } = entry;
      const published = JSON.parse(planJson(plan, content.brewery)) as {
        judgments: { key: string; cause: string | null; do: string | null }[];
      };
      expect(published.judgments.map(({ key }) => key)).toEqual(Object.keys(plan.readings));
      const words = plan.judgments.map((one) => judgmentWords(one, content.brewery));
      expect(published.judgments.map(({ cause, do: act }) => [cause, act])).toEqual(
        words.map((one) => [one.cause && plain(one.cause), one.do && plain(one.do)]),
      );

      // On the page each is said once: among the readings, or with the log.
      const view = batchView(entry, site, '');
      const said = [
        ...[...view.marked, ...view.calm].map((one) => [one.cause, one.do].join(' ').trim()),
        view.fermentation?.words ?? '',
      ];
      for (const one of plan.judgments.filter(({ cause }) => cause !== null)) {
        const line = plain(judgmentLine(one, content.brewery));
        const times = said.filter((text) => plain(text) === line).length;
        expect(times, line).toBe(1);
      }
      // A figure that is off has a cause: a bottle less than the beer would fill is none.
      for (const { key, cause } of plan.judgments)
        expect([key, plan.readings[key]!.verdict === 'off' && cause === null]).toEqual([key, false]);
      // Nothing else on it speaks of a reading.
      expect(view.warnings.some((text) => /reading|bottle/i.test(text))).toBe(false);

      for (const { key, cause } of plan.judgments) {
        if (cause === null) continue;
        const line = judgmentLine(plan.judgments.find((one) => one.key === key)!, content.brewery);
        expect(verdictOf({ batch, plan, brewery: content.brewery }, placeOf(key)!)).toContain(line);
      }
      const end = endJudgment(plan);
      const calendar = hasCalendar(batch) ? (batchCalendar(batch, plan, null, content.brewery) ?? '') : '';
      const due = plan.fermentation?.next ?? null;
      const unfolded = calendar.replaceAll('\r\n ', '').replaceAll('\\,', ',').replaceAll('\\;', ';');
      if (due !== null && end !== null) expect(unfolded).toContain(plain(judgmentLine(end, content.brewery)));

      const sheet = cellarSheet(batch, plan, { units, language: 'en' });
      const danger = plan.judgments.find(isOfBottles);
      for (const { title, caution } of sheet.packaging) {
        if (title !== 'Bottle') continue;
        expect(caution.avoid === (danger && judgmentWords(danger, { units, language: 'en' }).do)).toBe(
          danger !== undefined,
        );
      }
    },
  );
});
