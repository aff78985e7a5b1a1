import MarkdownItClass, { type MarkdownIt } from 'markdown-it';
import { withoutControls } from '../archive/schema/plain-text.ts';

const SAFE_SCHEME = /^(?:https?:|mailto:)/i;
const ANY_SCHEME = /^[a-z][a-z0-9+.-]*:/i;
const SAFE_IMAGE = /^data:image\/(?:png|jpeg|webp|gif);base64,/i;
/** Sections of a page are second-level headings; headings of the notes stand below them. */
const FIRST_LEVEL = 3;

function isSafeLink(url: string): boolean {
  const trimmed = url.trim();
  if (SAFE_IMAGE.test(trimmed)) return true;
  if (ANY_SCHEME.test(trimmed)) return SAFE_SCHEME.test(trimmed);
  return !trimmed.startsWith('//') && !trimmed.startsWith('\\');
}

/** Moves the headings of a text below the page's own, keeps their order and never skips a level. */
function lowerHeadings(md: MarkdownIt): void {
  md.core.ruler.push('lower_headings', (state) => {
    const levels = state.tokens.filter((t) => t.type === 'heading_open').map((t) => Number(t.tag.slice(1)));
    const top = levels.reduce((least, level) => Math.min(least, level), 6);
    let last = FIRST_LEVEL - 1;
    let tag = '';
    for (const token of state.tokens) {
      if (token.type === 'heading_open') {
        last = Math.min(FIRST_LEVEL + Number(token.tag.slice(1)) - top, last + 1, 6);
        tag = `h${last}`;
        token.tag = tag;
      } else if (token.type === 'heading_close') token.tag = tag;
    }
  });
}

/** Lists in lists in quotes go no deeper than this in notes that people write; each bracket that is never closed costs its square. */
const DEEPEST = 40;
/** With more of these for its blocks, the rest of the notes is shown as it was written; a megabyte of prose has a quarter of them. */
const MOST_TOKENS = 200_000;
/** With more bars than these no table is looked for: one table of a megabyte takes longer than all else that fits into one. */
const MOST_BARS = 50_000;

const bars = (text: string): number => text.split('|', MOST_BARS + 2).length - 1;

/** Ends the work on notes of hundreds of thousands of blocks, or of blocks far inside each other: what is left is shown as it was written. */
function boundBlocks(md: MarkdownIt): void {
  md.block.ruler.before('table', 'as_written', (state, start, end, silent) => {
    // A list goes two levels deeper at once; below the deepest the parser would drop the text.
    const enough = state.tokens.length >= MOST_TOKENS || state.level >= DEEPEST - 2;
    if (silent || !enough) return false;
    const token = state.push('code_block', 'code', 0);
    token.content = state.getLines(start, end, state.blkIndent, true);
    token.map = [start, end];
    state.line = end;
    return true;
  });
}

/**
 * The one Markdown renderer of the site: no raw HTML, links to http, https, mailto and relative addresses only.
 *
 * A picture is drawn only where it is carried in the text itself (`data:`); any other is replaced by its
 * description, so that no page ever asks another site for anything.
 */
export function createMarkdown(): MarkdownIt {
  const md = new MarkdownItClass({ html: false, linkify: false, typographer: false, maxNesting: DEEPEST });
  md.validateLink = isSafeLink;
  md.use(lowerHeadings);
  md.use(boundBlocks);
  md.renderer.rules.image = (tokens, index) => {
    const token = tokens[index]!;
    const source = String(token.attrGet('src') ?? '');
    const words = md.utils.escapeHtml(token.content);
    return SAFE_IMAGE.test(source) ? `<img src="${md.utils.escapeHtml(source)}" alt="${words}">` : words;
  };
  const render = md.render.bind(md);
  md.render = (text, env) => {
    if (bars(text) > MOST_BARS) md.disable('table');
    else md.enable('table');
    // After rendering, because an entity becomes its sign only there.
    return withoutControls(render(text, env));
  };
  md.renderer.rules.th_open = md.renderer.rules.td_open = (tokens, index) => {
    const { tag } = tokens[index]!;
    const side = /text-align:(\w+)/.exec(String(tokens[index]!.attrGet('style') ?? ''))?.[1];
    return side === undefined ? `<${tag}>` : `<${tag} class="to-${side}">`;
  };
  md.renderer.rules.table_open = () =>
    '<div class="scroll" tabindex="0" role="group" aria-label="Table">\n<table>\n';
  md.renderer.rules.table_close = () => '</table>\n</div>\n';
  md.renderer.rules.fence = md.renderer.rules.code_block = (tokens, index) =>
    `<pre tabindex="0"><code>${md.utils.escapeHtml(tokens[index]!.content)}</code></pre>\n`;
  return md;
}
