import { type HandlerOptions, keyInHandler } from '../key-in/handler.ts';
import { mayAsk } from './guard.ts';
import { type Middleware, PLAIN, sendBody } from './http.ts';
import { pagesHandler, type Shown } from './preview.ts';
import { running } from './running.ts';

/** Handlers of the preview: who may ask at all, the pages on which readings are keyed in, and all other pages. */
export function previewMiddleware(
  contentDir: string,
  shown: () => Shown,
  kept: NonNullable<HandlerOptions['kept']>,
): Middleware[] {
  const now = running();
  if (now === null) return [guard(null), pagesHandler(shown)];
  return [guard(now.lan), keyInHandler({ contentDir, kept, ...now }), pagesHandler(shown)];
}

/** Keeps the preview to this computer, or to its network: what is shown is nobody else's business. */
const guard =
  (lan: ReadonlySet<string> | null): Middleware =>
  (request, response, next) => {
    if (mayAsk(request, lan)) {
      next();
      return;
    }
    const where = lan === null ? 'on the computer' : 'in the network of the computer';
    const body = `This preview answers only ${where} that it runs on.\n`;
    sendBody(response, { status: 403, type: PLAIN, body });
  };
