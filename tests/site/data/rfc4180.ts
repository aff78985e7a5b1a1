/** A strict reader of RFC 4180, written from its grammar (section 2): anything else throws. */
export function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  while (at < text.length) {
    let cell = '';
    if (text[at] === '"') {
      at++;
      for (;;) {
        if (at >= text.length) throw new Error('a quote is not closed');
        if (text[at] === '"' && text[at + 1] === '"') {
          cell += '"';
          at += 2;
        } else if (text[at] === '"') {
          at++;
          break;
        } else cell += text[at++];
      }
    } else {
      while (at < text.length && text[at] !== ',' && text[at] !== '\r') {
        if (text[at] === '"' || text[at] === '\n')
          throw new Error(`a bare ${JSON.stringify(text[at])} at ${at}`);
        cell += text[at++];
      }
    }
    row.push(cell);
    if (text[at] === ',') at++;
    else if (text[at] === '\r' && text[at + 1] === '\n') {
      rows.push(row);
      row = [];
      at += 2;
      continue;
    } else throw new Error(`no comma and no CRLF at ${at}`);
    if (at >= text.length) throw new Error('the last line does not end');
  }
  return rows;
}
