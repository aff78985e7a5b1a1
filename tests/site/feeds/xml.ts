import { SaxesParser } from 'saxes';

export interface Node {
  readonly name: string;
  readonly uri: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  text: string;
}

/** Reads XML with a strict parser of namespaces; throws for anything that is not well-formed. */
export function readXml(text: string): Node {
  const parser = new SaxesParser({ xmlns: true });
  const root: Node = { name: '', uri: '', attributes: {}, children: [], text: '' };
  const stack: Node[] = [root];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', (tag) => {
    const attributes = Object.fromEntries(
      Object.entries(tag.attributes).map(([key, { value }]) => [key, value]),
    );
    const node: Node = { name: tag.local, uri: tag.uri, attributes, children: [], text: '' };
    stack.at(-1)!.children.push(node);
    stack.push(node);
  });
  parser.on('text', (found) => {
    stack.at(-1)!.text += found;
  });
  parser.on('closetag', () => {
    stack.pop();
  });
  parser.write(text).close();
  return root.children[0]!;
}

export const childrenOf = (node: Node, name: string): Node[] =>
  node.children.filter((one) => one.name === name);
