"""Sheets to look at: photographs untouched through the look that one begins with, the library, stills matched.

    LOOKWRIGHT=... python sheets.py PHOTOS FRAMES TO

PHOTOS and FRAMES are folders of photographs and of OpenEXR frames in linear light of Rec.709 primaries; TO gets
`photos.jpg`, `library.jpg` and `matches.jpg`. What the photographs lose or gain is printed: CIELAB's lightness by
colour-science. Environment of tests/reference/requirements.txt.
"""

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import colour
import numpy as np
from PIL import Image, ImageDraw

from library import LOOKS, render

CELL, SMALL, GAP, NAME = (220, 150), (160, 108), 4, 118
GREY = (119, 119, 119)
# A frame, the still that it is matched to, the look on that still, and how closely.
MATCHES = [
    ("sunset", "sunset", "bleach-works", 0.4),
    ("portrait", "hdr-sunset", "sodium-row", 0.4),
    ("china", "hdr-forest", "net-loft", 0.5),
    ("tmshre", "u76c0g", "salt-print", 0.4),
    ("motorcycle", "coffee", "matinee", 0.4),
]


def run(*words):
    done = subprocess.run([os.environ["LOOKWRIGHT"], *map(str, words)], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        sys.exit(done.stderr)
    return done.stdout


def read_as(path):
    return ("--from", "srgb-linear") if path.suffix == ".exr" else ()


def lightness(path):
    rgb = np.asarray(Image.open(path).convert("RGB")) / 255
    xyz = colour.RGB_to_XYZ(rgb, "sRGB", apply_cctf_decoding=True)
    return colour.XYZ_to_Lab(xyz, colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"])[..., 0]


def cell(path, size):
    picture = Image.open(path).convert("RGB")
    picture.thumbnail(size)
    out = Image.new("RGB", size, GREY)
    out.paste(picture, ((size[0] - picture.width) // 2, (size[1] - picture.height) // 2))
    return out


def sheet(rows, to, size=CELL):
    """Rows of a name and pictures."""
    wide = max(len(pictures) for _, pictures in rows)
    across, down = size[0] + GAP, size[1] + GAP
    left = NAME if any(name for name, _ in rows) else 0
    out = Image.new("RGB", (left + wide * across, len(rows) * down), GREY)
    draw = ImageDraw.Draw(out)
    for row, (name, pictures) in enumerate(rows):
        draw.text((6, row * down + 6), name, fill="white")
        for column, path in enumerate(pictures):
            out.paste(cell(path, size), (left + column * across, row * down))
    out.save(to, quality=82)


def photos(paths, look, folder, to):
    pairs, figures = [], []
    for path in paths:
        made = folder / f"{path.stem}.png"
        render(look, path, made)
        before, after = lightness(path), lightness(made)
        dark = [100 * np.mean(each < 8) for each in (before, after)]
        tops = [np.percentile(each, 99) for each in (before, after)]
        figures.append([np.median(np.abs(after - before)), tops[1] - tops[0], dark[1] - dark[0]])
        print(f"{path.stem:14} median |dL*| {figures[-1][0]:4.1f}  p99 {tops[0]:5.1f} to {tops[1]:5.1f}  below 8 {dark[0]:4.1f} to {dark[1]:4.1f} %")
        pairs += [path, made]
    middle = np.median(figures, axis=0)
    print(f"median of {len(paths)}: |dL*| {middle[0]:.1f}, p99 {middle[1]:+.1f}, below 8 {middle[2]:+.1f} points")
    sheet([("", pairs[i : i + 8]) for i in range(0, len(pairs), 8)], to / "photos.jpg")


def library(paths, begin, folder, to):
    plain = [folder / f"none-{path.stem}.png" for path in paths]
    for path, out in zip(paths, plain, strict=True):
        run("render", begin, path, "--before", "-o", out, "--to", "srgb", *read_as(path))
    rows = [("No look", plain)]
    for look in sorted(set(LOOKS.glob("*.json")) - {LOOKS / "index.json"}):
        made = [folder / f"{look.stem}-{path.stem}.png" for path in paths]
        for path, out in zip(paths, made, strict=True):
            render(look, path, out)
        rows.append((json.loads(look.read_text())["name"], made))
    sheet(rows, to / "library.jpg", SMALL)


def matches(found, begin, folder, to):
    rows = []
    for frame, of, look, closely in MATCHES:
        path = found[frame]
        still, wanted, matched, before, after = (
            folder / f"{frame}-{end}" for end in ("still.png", "wanted.png", "match.json", "before.png", "after.png")
        )
        render(LOOKS / f"{look}.json", found[of], still)
        render(LOOKS / f"{look}.json", path, wanted)
        told = run("match", path, "--still", still, "--look", begin, "--closely", closely, "-o", matched, *read_as(path))
        print(f"{frame} to {of}, {look}", told, sep="\n")
        render(begin, path, before)
        render(matched, path, after)
        rows.append((f"{frame}\nto {of}\nwith {look}", [before, still, after, wanted]))
    sheet(rows, to / "matches.jpg")


def main(photo_folder, frame_folder, to):
    to = Path(to)
    of_photos, of_frames = (sorted(Path(name).iterdir()) for name in (photo_folder, frame_folder))
    found = {path.stem: path for path in of_photos + of_frames}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        begin = folder / "begin.json"
        run("new", "-o", begin)
        photos(of_photos, begin, folder, to)
        library(of_frames + [found["astronaut"], found["portrait"]], begin, folder, to)
        matches(found, begin, folder, to)


if __name__ == "__main__":
    main(*sys.argv[1:])
