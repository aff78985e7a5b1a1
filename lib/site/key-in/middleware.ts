import { localOnly } from '../local-only.ts';
import { pagesHandler, type Shown } from '../preview.ts';
import { mayAsk } from './guard.ts';
import { type HandlerOptions, keyInHandler, type Middleware } from './handler.ts';
import { running } from './running.ts';

/** Handlers of the preview: who may ask at all, the pages on which readings are keyed in, and all other pages. */
export function previewMiddleware(
  contentDir: string,
  shown: () => Shown,
  kept: NonNullable<HandlerOptions['kept']>,
): Middleware[] {
  const now = running();
  if (now === null) return [localOnly, pagesHandler(shown)];
  return [guard(now.lan), keyInHandler({ contentDir, kept, ...now }), pagesHandler(shown)];
}

function guard(lan: ReadonlySet<string> | null): Middleware {
  if (lan === null) return localOnly;
  return (request, response, next) => {
    if (mayAsk(request, lan)) {
      next();
      return;
    }
    response.statusCode = 403;
    response.end('This preview answers only in the network of the computer that it runs on.\n');
  };
}
