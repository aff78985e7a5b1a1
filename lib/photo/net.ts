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

/** One kernel over one plane, added to what is there: whole rows at a time, which an engine makes fast. */
function addKernel(
  to: Planes,
  o: number,
  from: Planes,
  c: number,
  kernel: Float32Array,
  size: number,
  stride: number,
): void {
  for (let k = 0; k < kernel.length; k += 1) {
    const weight = kernel[k]!;
    for (let y = 0; y < to.height; y += 1) {
      let source = (c * from.height + y * stride + Math.floor(k / size)) * from.width + (k % size);
      const end = (o * to.height + y + 1) * to.width;
      for (let at = end - to.width; at < end; at += 1, source += stride)
        to.values[at]! += weight * from.values[source]!;
    }
  }
}

/** The same for a kernel of 3 by 3 at every pixel, its nine weights at hand: three times as fast, and most of the work. */
function addKernel3(to: Planes, o: number, from: Planes, c: number, kernel: Float32Array): void {
  const [k0, k1, k2] = [kernel[0]!, kernel[1]!, kernel[2]!];
  const [k3, k4, k5] = [kernel[3]!, kernel[4]!, kernel[5]!];
  const [k6, k7, k8] = [kernel[6]!, kernel[7]!, kernel[8]!];
  const { values: v, width: w } = from;
  for (let y = 0; y < to.height; y += 1) {
    const end = (o * to.height + y + 1) * to.width;
    let p = (c * from.height + y) * w;
    for (let at = end - to.width; at < end; at += 1, p += 1)
      to.values[at]! +=
        k0 * v[p]! +
        k1 * v[p + 1]! +
        k2 * v[p + 2]! +
        k3 * v[p + w]! +
        k4 * v[p + w + 1]! +
        k5 * v[p + w + 2]! +
        k6 * v[p + 2 * w]! +
        k7 * v[p + 2 * w + 1]! +
        k8 * v[p + 2 * w + 2]!;
  }
}

/** A convolution, negative sums cut off at zero. */
function convolve(
  input: Planes,
  { weights, bias, inputs, outputs }: Layer,
  size: number,
  stride: number,
): Planes {
  const source = padded(input, size >> 1);
  const [width, height] = [Math.ceil(input.width / stride), Math.ceil(input.height / stride)];
  const out: Planes = { count: outputs, width, height, values: new Float32Array(outputs * width * height) };
  const { values } = out;
  for (let o = 0; o < outputs; o += 1) {
    values.fill(bias[o]!, o * width * height, (o + 1) * width * height);
    for (let c = 0; c < input.count; c += 1) {
      const first = o * inputs + c * size * size;
      const kernel = weights.subarray(first, first + size * size);
      if (size === 3 && stride === 1) addKernel3(out, o, source, c, kernel);
      else addKernel(out, o, source, c, kernel, size, stride);
    }
  }
  for (let i = 0; i < values.length; i += 1) if (values[i]! < 0) values[i] = 0;
  return out;
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
