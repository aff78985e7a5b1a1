/** The script that makes the sheet and the file, below the top folder. */
export const OUT = 'assets/recipe-out';

/** What the page hands to the frame that prints. */
export interface SheetMessage {
  readonly kettleside: 'sheet';
  readonly title: string;
  readonly language: string;
  readonly html: string;
}

const said = (data: unknown): string | null =>
  typeof data === 'object' && data !== null && 'kettleside' in data ? String(data.kettleside) : null;

/**
 * Prints a sheet from a frame beside the page: it has the sheets' own styles and paginator. Resolves when the sheet
 * has been handed to the printer's dialogue, rejects where it cannot be laid out.
 */
export function printSheet(message: SheetMessage, frameAddress: string): Promise<void> {
  document.querySelector('.print-frame')?.remove();
  const frame = document.createElement('iframe');
  frame.className = 'print-frame';
  frame.title = message.title;
  frame.tabIndex = -1;
  frame.setAttribute('aria-hidden', 'true');
  return new Promise((done, fail) => {
    const listen = (event: MessageEvent): void => {
      if (event.source !== frame.contentWindow) return;
      const word = said(event.data);
      // The page may be a plain file, which has no origin to name.
      if (word === 'waiting') frame.contentWindow?.postMessage(message, '*');
      if (word !== 'printed' && word !== 'failed') return;
      window.removeEventListener('message', listen);
      if (word === 'printed') done();
      else fail(new Error('The sheet could not be laid out.'));
    };
    window.addEventListener('message', listen);
    frame.src = frameAddress;
    document.body.append(frame);
  });
}
