import { CROP } from './crop.ts';

/** What a crop can show: ten digits, an empty box, something else, an unmarked circle, a marked circle. */
export const CLASSES = 14;
export const EMPTY = 10;
export const OTHER = 11;
export const PLAIN_CIRCLE = 12;
export const MARKED_CIRCLE = 13;

/** Four convolutions, the first at every second pixel only, two of them halved by the largest of each two by two. */
const CONVOLUTIONS = [
  { inputs: 1, outputs: 12, size: 5, stride: 2, pooled: false },
  { inputs: 12, outputs: 24, size: 3, stride: 1, pooled: true },
  { inputs: 24, outputs: 40, size: 3, stride: 1, pooled: false },
  { inputs: 40, outputs: 48, size: 3, stride: 1, pooled: true },
] as const;
/** Then two full layers. Each layer's inputs in all: rows, columns, planes. */
const SIZES = [
  ...CONVOLUTIONS.map(({ inputs, outputs, size }) => ({ outputs, inputs: size * size * inputs })),
  { outputs: 64, inputs: (CROP.height / 8) * (CROP.width / 8) * 48 },
  { outputs: CLASSES, inputs: 64 },
] as const;

interface Layer {
  readonly outputs: number;
  /** Input by input, `outputs` each. */
  readonly weights: Float32Array;
  readonly bias: Float32Array;
}

export type Net = readonly Layer[];

/**
 * Reads the weights: per layer a scale and then a bias for each output (32-bit floats, low byte first), then all
 * weights as signed bytes, input by input.
 *
 * Throws an Error where the length is another.
 */
export function loadNet(bytes: Uint8Array): Net {
  const wanted = SIZES.reduce((sum, { outputs, inputs }) => sum + outputs * (8 + inputs), 0);
  if (bytes.byteLength !== wanted) throw new Error(`${bytes.byteLength} bytes of weights, not ${wanted}`);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let float = 0;
  let byte = SIZES.reduce((sum, { outputs }) => sum + 8 * outputs, 0);
  return SIZES.map(({ outputs, inputs }) => {
    const floats = Float32Array.from({ length: 2 * outputs }, (_, i) => view.getFloat32(float + 4 * i, true));
    const weights = Float32Array.from(
      { length: outputs * inputs },
      (_, i) => view.getInt8(byte + i) * floats[i % outputs]!,
    );
    float += 8 * outputs;
    byte += weights.length;
    return { outputs, weights, bias: floats.subarray(outputs) };
  });
}

/** Planes of a picture, interleaved: all values of a pixel stand together. */
interface Planes {
  readonly count: number;
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** Adds inputs from `from` on, times their weights from `first` on, to the outputs at `at`. Many inputs are zero. */
function addInputs(
  to: Float32Array,
  at: number,
  values: Float32Array,
  [from, end]: readonly [number, number],
  { weights, outputs }: Layer,
  first: number,
): void {
  for (let i = from, w = first * outputs; i < end; i += 1, w += outputs) {
    const value = values[i]!;
    if (value !== 0) for (let o = 0; o < outputs; o += 1) to[at + o]! += value * weights[w + o]!;
  }
}

/** A convolution with zeros around the picture, negative sums cut off at zero. */
function convolve(
  { count, width, height, values }: Planes,
  layer: Layer,
  size: number,
  stride: number,
): Planes {
  const [w, h, reach] = [Math.ceil(width / stride), Math.ceil(height / stride), size >> 1];
  const out = new Float32Array(w * h * layer.outputs);
  for (let y = 0, at = 0; y < h; y += 1)
    for (let x = 0; x < w; x += 1, at += layer.outputs) {
      out.set(layer.bias, at);
      const [left, right] = [Math.max(0, x * stride - reach), Math.min(width, x * stride + reach + 1)];
      for (let k = 0; k < size; k += 1) {
        const row = y * stride + k - reach;
        if (row < 0 || row >= height) continue;
        const first = (k * size + left - x * stride + reach) * count;
        addInputs(
          out,
          at,
          values,
          [(row * width + left) * count, (row * width + right) * count],
          layer,
          first,
        );
      }
    }
  return { count: layer.outputs, width: w, height: h, values: out.map((value) => Math.max(0, value)) };
}

/** The largest of each two by two. */
function pool({ count, width, height, values }: Planes): Planes {
  const [w, h] = [width >> 1, height >> 1];
  const out = Float32Array.from({ length: w * h * count }, (_, i) => {
    const [pixel, c] = [Math.floor(i / count), i % count];
    const at = (2 * Math.floor(pixel / w) * width + 2 * (pixel % w)) * count + c;
    const below = at + width * count;
    return Math.max(values[at]!, values[at + count]!, values[below]!, values[below + count]!);
  });
  return { count, width: w, height: h, values: out };
}

function dense(input: Float32Array, layer: Layer): Float32Array {
  const out = layer.bias.slice();
  addInputs(out, 0, input, [0, input.length], layer, 0);
  return out;
}

/** How likely a crop of a box (0 to 11) or of a circle (12 and 13) shows each class; classes of the other are zero. */
export function classify(net: Net, crop: Float32Array, shows: 'box' | 'circle'): number[] {
  let planes: Planes = { count: 1, ...CROP, values: crop };
  CONVOLUTIONS.forEach(({ size, stride, pooled }, i) => {
    const out = convolve(planes, net[i]!, size, stride);
    planes = pooled ? pool(out) : out;
  });
  const hidden = dense(planes.values, net.at(-2)!).map((value) => Math.max(0, value));
  const isAsked = (sign: number): boolean => sign >= PLAIN_CIRCLE === (shows === 'circle');
  const scores = Array.from(dense(hidden, net.at(-1)!), (score, i) => (isAsked(i) ? score : -Infinity));
  const most = Math.max(...scores);
  const powers = scores.map((score) => Math.exp(score - most));
  const sum = powers.reduce((total, power) => total + power, 0);
  return powers.map((power) => power / sum);
}
