"""Judges the library: every look of `web/looks` on pictures, how far looks are apart, and sheets to look at.

    LOOKWRIGHT=... python library.py PICTURES FOLDER [LOOK.json ...]

PICTURES is a folder of photos and of OpenEXR frames in linear light of Rec.709 primaries; FOLDER gets a folder of
renderings for each look and `sheet-N.png`. Looks that are named are judged in place of the library's. Differences are
CIEDE2000 between areas of eight by eight pixels and more, so that grain counts for little. Environment of
tests/reference/requirements.txt.
"""

import os
import subprocess
import sys
from itertools import combinations
from pathlib import Path

import colour
import numpy as np
from PIL import Image, ImageDraw

LOOKS = Path(__file__).parents[3] / "web/looks"
D65 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
COMPARED, CELL, ACROSS = 60, (200, 140), 10


def render(look, picture, to):
    known = ("--from", "srgb-linear") if picture.suffix == ".exr" else ()
    command = [os.environ["LOOKWRIGHT"], "render", look, picture, "-o", to, "--to", "srgb", "--overwrite", *known]
    subprocess.run(command, check=True, capture_output=True)


def lab(path):
    picture = Image.open(path).convert("RGB")
    small = picture.resize((COMPARED, max(1, COMPARED * picture.height // picture.width)), Image.Resampling.BOX)
    xyz = colour.RGB_to_XYZ(np.asarray(small) / 255, "sRGB", apply_cctf_decoding=True)
    return colour.XYZ_to_Lab(xyz, D65).reshape(-1, 3)


def sheet(folder, looks, pictures, to):
    wide, high = CELL
    out = Image.new("RGB", (wide * len(pictures) + 120, high * len(looks)), (90, 90, 90))
    draw = ImageDraw.Draw(out)
    for row, look in enumerate(looks):
        draw.text((4, row * high + 8), look, fill="white")
        for column, picture in enumerate(pictures):
            cell = Image.open(folder / look / f"{picture}.png").convert("RGB")
            cell.thumbnail((wide - 4, high - 4))
            out.paste(cell, (120 + column * wide, row * high))
    out.save(to)


def main(pictures, folder, *named):
    files = sorted(path for path in Path(pictures).iterdir() if path.is_file())
    looks = [Path(name) for name in named] or sorted(set(LOOKS.glob("*.json")) - {LOOKS / "index.json"})
    seen = {}
    for look in looks:
        to = Path(folder) / look.stem
        to.mkdir(parents=True, exist_ok=True)
        for file in files:
            render(look, file, to / f"{file.stem}.png")
        seen[look.stem] = [lab(to / f"{file.stem}.png") for file in files]
        all_lab = np.concatenate(seen[look.stem])
        lightness, chroma = all_lab[:, 0], np.hypot(all_lab[:, 1], all_lab[:, 2])
        print(
            f"{look.stem:16} L* mean {lightness.mean():4.1f}, 99 of 100 below {np.percentile(lightness, 99):4.1f}, "
            f"below 8 {100 * (lightness < 8).mean():4.1f} %; chroma {chroma.mean():4.1f}"
        )
    apart = lambda a, b: np.mean([colour.delta_E(x, y, method="CIE 2000").mean() for x, y in zip(seen[a], seen[b])])
    print(f"nearest of {len(files)} pictures, dE2000:")
    for far, a, b in sorted((apart(a, b), a, b) for a, b in combinations(seen, 2))[:10]:
        print(f"  {far:5.2f}  {a}, {b}")
    names = [file.stem for file in files]
    for first in range(0, len(names), ACROSS):
        sheet(Path(folder), list(seen), names[first : first + ACROSS], Path(folder) / f"sheet-{first // ACROSS}.png")


if __name__ == "__main__":
    main(*sys.argv[1:])
