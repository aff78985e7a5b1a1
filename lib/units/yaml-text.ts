/** Words that YAML, this dialect or an older one, takes for something else than text. */
const OTHER_MEANING = /^(?:null|~|true|false|yes|no|on|off|y|n)$/i;

/** Text that YAML reads as itself, in braces too. */
function plainIsSafe(value: string): boolean {
  return (
    /^[\p{L}\p{N}][\p{L}\p{N} .%°/@+±-]*(?::[\p{L}\p{N}]+)*$/u.test(value) &&
    value.trim() === value &&
    !OTHER_MEANING.test(value)
  );
}

/** A value as it is written in YAML: plain where that means the same, else in double quotes on one line. */
export function yamlText(value: string): string {
  return plainIsSafe(value) ? value : yamlQuoted(value);
}

/** In double quotes. JSON is YAML, but for a few characters that end a line in one and not in the other. */
export function yamlQuoted(value: string): string {
  const escaped = (sign: string) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`;
  return JSON.stringify(value).replaceAll(/[\u007f-\u009f\u2028\u2029\ufeff]/g, escaped);
}
