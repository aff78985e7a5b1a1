import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { planJsonSchema } from '../../lib/batch/types/plan-schema.ts';
import { loadSite } from '../../lib/site/archive.ts';
import { planJson } from '../../lib/site/plan-json.ts';
import { brewery, plan } from './fixture.ts';

const validate = new Ajv2020({ strict: true, allErrors: true }).compile(planJsonSchema());
const read = (text: string): Record<string, unknown> => JSON.parse(text) as Record<string, unknown>;

describe('plan.json', () => {
  it('fits its published schema', () => {
    validate(read(planJson(plan, brewery)));
    expect(validate.errors).toBeNull();
  });

  it('fits it for every batch of the demo archive', async () => {
    const { content, failed } = await loadSite('content');
    expect(failed).toEqual([]);
    expect(content.entries.length).toBeGreaterThan(10);
    for (const entry of content.entries) {
      validate(read(planJson(entry.plan, brewery)));
      expect(validate.errors, entry.batch.slug).toBeNull();
    }
  });

  // Powers of one version of Node differ from those of another in the last digit.
  it('holds no digits on which versions of Node differ', () => {
    const digits = planJson(plan, brewery).match(/(?<=: )-?[\d.]+(?:e[+-]?\d+)?(?=,?$)/gm) ?? [];
    expect(digits.length).toBeGreaterThan(100);
    expect(digits.filter((text) => text.replace(/^-?[0.]*|e.*$|\./g, '').length > 10)).toEqual([]);
  });

  it.each(['targets', 'kettle', 'warnings', 'as_brewed'])('does not fit it without %s', (key) => {
    const { [key]: _, ...rest } = read(planJson(plan, brewery));
    expect(validate(rest)).toBe(false);
  });

  it('does not fit it without one target, with a key nobody described, or with a figure as text', () => {
    const whole = read(planJson(plan, brewery));
    const { bitterness_ibu: _, ...targets } = whole.targets as Record<string, unknown>;
    expect(validate({ ...whole, targets })).toBe(false);
    expect(validate({ ...whole, surplus: 1 })).toBe(false);
    expect(validate({ ...whole, targets: { ...targets, bitterness_ibu: '24' } })).toBe(false);
  });
});
