import { CROP } from './crop.ts';

/** What a crop can show: ten digits, an empty box, something else, an unmarked circle, a marked circle. */
export const CLASSES = 14;
export const EMPTY = 10;
export const OTHER = 11;
export const PLAIN_CIRCLE = 12;
export const MARKED_CIRCLE = 13;

/** Four convolutions, then two full layers; the first looks at every second pixel only. */
const CONVOLUTIONS = [
  { inputs: 1, outputs: 12, size: 5, stride: 2, pooled: false },
  { inputs: 12, outputs: 20, size: 3, stride: 1, pooled: true },
  { inputs: 20, outputs: 32, size: 3, stride: 1, pooled: false },
  { inputs: 32, outputs: 40, size: 3, stride: 1, pooled: true },
] as const;
/** Three times halved. */
const LAST_PLANE = (CROP.width / 8) * (CROP.height / 8);
const SIZES = [
  ...CONVOLUTIONS.map(({ inputs, outputs, size }) => ({ outputs, inputs: inputs * size * size })),
  { outputs: 64, inputs: 40 * LAST_PLANE },
  { outputs: CLASSES, inputs: 64 },
] as const;

interface Layer {
  readonly inputs: number;
  readonly outputs: number;
  /** Row by row of `inputs` each, already scaled. */
  readonly weights: Float32Array;
  readonly bias: Float32Array;
}

export type Net = readonly Layer[];

/**
 * Reads the weights: per layer a scale and then a bias for each output (32-bit floats, low byte first), then all
 * weights as signed bytes.
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
      (_, i) => view.getInt8(byte + i) * floats[Math.floor(i / inputs)]!,
    );
    float += 8 * outputs;
    byte += weights.length;
    return { outputs, inputs, weights, bias: floats.subarray(outputs) };
  });
}

interface Planes {
  readonly count: number;
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** With zeros around each plane, so that a kernel never leaves it. */
function padded({ count, width, height, values }: Planes, by: number): Planes {
  const [w, h] = [width + 2 * by, height + 2 * by];
  const out = new Float32Array(count * w * h);
  for (let c = 0; c < count; c += 1)
    for (let y = 0; y < height; y += 1) {
      const from = (c * height + y) * width;
      out.set(values.subarray(from, from + width), (c * h + y + by) * w + by);
    }
  return { count, width: w, height: h, values: out };
}

/** A convolution, negative sums cut off at zero. Whole rows at a time: that is what an engine makes fast. */
function convolve(input: Planes, layer: Layer, size: number, stride: number): Planes {
  const source = padded(input, size >> 1);
  const [width, height] = [Math.ceil(input.width / stride), Math.ceil(input.height / stride)];
  const values = new Float32Array(layer.outputs * width * height);
  for (let o = 0; o < layer.outputs; o += 1) {
    const base = o * width * height;
    values.fill(layer.bias[o]!, base, base + width * height);
    for (let k = 0; k < layer.inputs; k += 1) {
      const weight = layer.weights[o * layer.inputs + k]!;
      const [c, ky, kx] = [Math.floor(k / (size * size)), Math.floor(k / size) % size, k % size];
      for (let y = 0; y < height; y += 1) {
        let from = (c * source.height + y * stride + ky) * source.width + kx;
        const end = base + (y + 1) * width;
        for (let to = end - width; to < end; to += 1, from += stride)
          values[to]! += weight * source.values[from]!;
      }
    }
  }
  for (let i = 0; i < values.length; i += 1) if (values[i]! < 0) values[i] = 0;
  return { count: layer.outputs, width, height, values };
}

/** The largest of each two by two. */
function pool({ count, width, height, values }: Planes): Planes {
  const [w, h] = [width >> 1, height >> 1];
  const out = new Float32Array(count * w * h);
  for (let c = 0; c < count; c += 1)
    for (let y = 0; y < h; y += 1)
      for (let x = 0; x < w; x += 1) {
        const at = (c * height + 2 * y) * width + 2 * x;
        out[(c * h + y) * w + x] = Math.max(
          values[at]!,
          values[at + 1]!,
          values[at + width]!,
          values[at + width + 1]!,
        );
      }
  return { count, width: w, height: h, values: out };
}

function dense(input: Float32Array, { inputs, outputs, weights, bias }: Layer): Float32Array {
  return Float32Array.from({ length: outputs }, (_, o) => {
    let sum = bias[o]!;
    for (let i = 0; i < inputs; i += 1) sum += weights[o * inputs + i]! * input[i]!;
    return sum;
  });
}

/** Probabilities of the classes from `first` up to but not including `end`; the others are zero. */
function softmax(scores: Float32Array, first: number, end: number): number[] {
  const most = Math.max(...scores.subarray(first, end));
  const powers = Array.from(scores, (score, i) => (i >= first && i < end ? Math.exp(score - most) : 0));
  const sum = powers.reduce((total, power) => total + power, 0);
  return powers.map((power) => power / sum);
}

/** How likely a crop of a box (0 to 11) or of a circle (12 and 13) shows each class. */
export function classify(net: Net, crop: Float32Array, shows: 'box' | 'circle'): number[] {
  let planes: Planes = { count: 1, ...CROP, values: crop };
  CONVOLUTIONS.forEach(({ size, stride, pooled }, i) => {
    const out = convolve(planes, net[i]!, size, stride);
    planes = pooled ? pool(out) : out;
  });
  const hidden = dense(planes.values, net.at(-2)!).map((value) => Math.max(0, value));
  const scores = dense(hidden, net.at(-1)!);
  return shows === 'box' ? softmax(scores, 0, PLAIN_CIRCLE) : softmax(scores, PLAIN_CIRCLE, CLASSES);
}
