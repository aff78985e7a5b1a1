/** The folder of an installed package, from the path of its entry file, with slashes of either kind. */
export function packageFolder(entry: string, name: string): string {
  const plain = entry.replaceAll('\\', '/');
  const end = plain.lastIndexOf(`node_modules/${name}/`);
  if (end === -1) throw new Error(`${entry} is no file of the package ${name}.`);
  return entry.slice(0, end + `node_modules/${name}`.length);
}
