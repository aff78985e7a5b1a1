import MarkdownItClass, { type MarkdownIt } from 'markdown-it';
import { withoutControls } from '../schema/plain-text.ts';

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
    const top = Math.min(...levels);
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

/**
 * The one Markdown renderer of the site: no raw HTML, links to http, https, mailto and relative addresses only.
 *
 * A picture is drawn only where it is carried in the text itself (`data:`); any other is replaced by its
 * description, so that no page ever asks another site for anything.
 */
export function createMarkdown(): MarkdownIt {
  const md = new MarkdownItClass({ html: false, linkify: false, typographer: false });
  md.validateLink = isSafeLink;
  md.use(lowerHeadings);
  md.renderer.rules.image = (tokens, index) => {
    const token = tokens[index]!;
    const source = String(token.attrGet('src') ?? '');
    const words = md.utils.escapeHtml(token.content);
    return SAFE_IMAGE.test(source) ? `<img src="${md.utils.escapeHtml(source)}" alt="${words}">` : words;
  };
  const render = md.render.bind(md);
  // After rendering, because an entity becomes its sign only there.
  md.render = (text, env) => withoutControls(render(text, env));
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
