import qrcode from 'qrcode';
import type { CodePath } from '../paper/render-input.ts';

/** Modules of white around a code (ISO/IEC 18004). */
const QUIET_ZONE = 4;

/** Draws an address as a QR code of level Q: each run of dark modules of a row is one stroke of the path. */
export function codePath(address: string): CodePath {
  const { modules } = qrcode.create(address, { errorCorrectionLevel: 'Q' });
  let path = '';
  for (let row = 0; row < modules.size; row++) {
    let run = 0;
    for (let column = 0; column <= modules.size; column++) {
      if (column < modules.size && modules.get(row, column)) run++;
      else if (run > 0) {
        path += `M${column - run + QUIET_ZONE} ${row + QUIET_ZONE}h${run}v1h-${run}z`;
        run = 0;
      }
    }
  }
  return { size: modules.size + 2 * QUIET_ZONE, path };
}
