import { describe, expect, it } from 'vitest';
import type { Point } from '../../lib/photo/homography.ts';
import { settle, smoothShift } from '../../lib/photo/settle.ts';

const PER_MM = 10;
const view = [PER_MM, 0, 0, 0, PER_MM, 0, 0, 0, 1];
const boxes = [0, 1, 2].map((i) => ({ x: 10 + 8 * i, y: 10, width: 8, height: 10 }));

/** Three boxes in thin grey lines, moved by so many millimetres, with a black rule above them. */
function drawn(dx: number, dy: number, rule_mm: number | null) {
  const [width, height] = [450, 300];
  const pixels = new Uint8Array(width * height).fill(230);
  const line = (x: number, y: number, w: number, h: number, grey: number): void => {
    for (let j = Math.round(y * PER_MM); j < Math.round((y + h) * PER_MM); j += 1)
      pixels.fill(grey, j * width + Math.round(x * PER_MM), j * width + Math.round((x + w) * PER_MM));
  };
  for (const box of boxes) {
    const [x, y] = [box.x + dx, box.y + dy];
    for (const at of [y, y + box.height - 0.2]) line(x, at, box.width, 0.2, 170);
    for (const at of [x, x + box.width - 0.2]) line(at, y, 0.2, box.height, 170);
  }
  if (rule_mm !== null) line(2, 10 + dy - rule_mm, 40, 0.3, 20);
  return { width, height, pixels };
}

describe('boxes settled on their printed lines', () => {
  it.each([
    [0, 0],
    [0.8, -0.5],
    [-1.2, 1.1],
  ])('are found %d and %d mm off', (dx, dy) => {
    const shift = settle(drawn(dx, dy, null), view, boxes);
    expect(Math.hypot(shift.x - dx, shift.y - dy)).toBeLessThan(0.2);
  });

  it('are not drawn to the black rule of a table above them', () => {
    const shift = settle(drawn(0.2, 0.3, 1.2), view, boxes);
    expect(Math.hypot(shift.x - 0.2, shift.y - 0.3)).toBeLessThan(0.2);
  });

  it('are where a smooth page has them, though a few stray', () => {
    const places = [30, 70, 110, 150, 190].flatMap((x) => [40, 90, 140, 190, 240].map((y) => ({ x, y })));
    const bent = ({ x, y }: Point): Point => ({ x: 0.5 + (x - 105) / 200, y: ((y - 148) / 100) ** 2 - 0.3 });
    const shifts = places.map((place, i) => (i % 6 === 0 ? { x: -2.4, y: 2 } : bent(place)));
    const smooth = smoothShift(places, shifts);
    for (const place of places) {
      const [seen, true_] = [smooth(place), bent(place)];
      expect(Math.hypot(seen.x - true_.x, seen.y - true_.y)).toBeLessThan(0.15);
    }
  });

  it('are looked for as far as a lens and a curl together move them', () => {
    const shift = settle(drawn(2.6, -2.2, null), view, boxes);
    expect(Math.hypot(shift.x - 2.6, shift.y + 2.2)).toBeLessThan(0.2);
  });
});
