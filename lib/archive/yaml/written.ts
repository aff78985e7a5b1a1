import type { Scalar } from 'yaml';
import { yamlQuoted, yamlText } from '../../units/yaml-text.ts';

/** A value in the quotes that the one before it had. */
export function quotedAs(type: Scalar.Type | undefined | null, value: string): string {
  if (type === 'QUOTE_DOUBLE') return yamlQuoted(value);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are not allowed between single quotes
  const simple = !/[\u0000-\u001f\u007f-\u009f\u2028\u2029\ufeff]/.test(value);
  if (type === 'QUOTE_SINGLE' && simple) return `'${value.replaceAll("'", "''")}'`;
  return yamlText(value);
}
