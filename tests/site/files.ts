import { readdir, readFile } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';

/** Every file of a folder by its path below it, with forward slashes. */
export async function filesBelow(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
}

/** Every HTML file of a folder with its text. */
export async function htmlBelow(folder: string): Promise<{ path: string; html: string }[]> {
  const paths = (await filesBelow(folder)).filter((path) => path.endsWith('.html'));
  return Promise.all(paths.map(async (path) => ({ path, html: await readFile(join(folder, path), 'utf8') })));
}

/** Files whose bytes hold a text in UTF-8, as it stands or escaped for HTML, a URL or JSON. */
export async function filesThatHold(folder: string, text: string): Promise<string[]> {
  const needles = [text, encodeURIComponent(text), JSON.stringify(text).slice(1, -1)].map((t) =>
    Buffer.from(t, 'utf8'),
  );
  const found: string[] = [];
  for (const path of await filesBelow(folder)) {
    const bytes = await readFile(join(folder, path));
    if (path.includes(text) || needles.some((needle) => bytes.includes(needle))) found.push(path);
  }
  return found;
}

/** The values of an attribute in a page, entities of an address undone. */
export function attributes(html: string, name: string): string[] {
  return [...html.matchAll(new RegExp(`\\s${name}="([^"]*)"`, 'g'))].map((match) =>
    match[1]!
      .replace(/&amp;/g, '&')
      .replace(/&quot;/g, '"')
      .replace(/&#39;/g, "'"),
  );
}
