"""Draws what the film does, as sheets to look at: `python show.py FOLDER`.

Lamps of narrow bands, the chart under-exposed, stocks side by side, print on and off, windows and lamps by backing,
and black and white. Needs LOOKWRIGHT (the native command line); with BEFORE (an older one) the lamps and the chart are
drawn by both. Environment of tests/reference/requirements.txt; spectra as in make.py.
"""

import json
import os
import struct
import subprocess
import sys
import tempfile
import zlib
from pathlib import Path

import colour
import numpy as np
import spectra as sp
from PIL import Image, ImageDraw, ImageFont

ROOT = Path(__file__).parents[3]
DEMO = ROOT / "demo-images"
NOW, BEFORE = os.environ["LOOKWRIGHT"], os.environ.get("BEFORE")
STARTS = {
    "Evening: lamp 500": ("lamp", 500),
    "Overcast: day 320": ("day", 320),
    "Noon: day 40": ("day", 40),
    "All grey: panchromatic 250": ("panchromatic", 250),
    "Red-blind: orthochromatic 50": ("orthochromatic", 50),
}
DAY = {"balance": "day", "speed": 250, "scene_light": 5500}
OLDER = {"lookwright": 1, "negative": {"stock": {"class": "daylight-250", "scene_light": 5500}}}
FONT, LINE, GAP = ImageFont.load_default(15), 24, 8


def write_png16(path, light):
    """AP1 scene light to ACEScct code, 16 bits."""
    code = np.clip(np.round(colour.models.log_encoding_ACEScct(np.maximum(light, 1e-6)) * 65535), 0, 65535)
    rows = b"".join(b"\0" + row.astype(">u2").tobytes() for row in code)
    chunk = lambda kind, data: struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    header = struct.pack(">IIBBBBB", light.shape[1], light.shape[0], 16, 2, 0, 0, 0)
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")
    )


class Bench:
    def __init__(self, folder):
        self.folder = Path(folder)

    def render(self, picture, look, *words, program=NOW):
        """A picture, by its path or as AP1 light, through a look; None for no look."""
        if not isinstance(picture, Path):
            write_png16(self.folder / "scene.png", picture)
            picture, words = self.folder / "scene.png", ("--from", "acescct", *words)
        (self.folder / "look.json").write_text(json.dumps(look or {"lookwright": 3}))
        out = self.folder / "out.png"
        plain = ("--before",) if look is None else ()
        done = subprocess.run(
            [program, "render", self.folder / "look.json", picture, "-o", out, "--overwrite", *plain, *words],
            capture_output=True, text=True,
        )  # fmt: skip
        if done.returncode and "--overwrite" in done.stderr:  # older ones ask nothing
            out.unlink(missing_ok=True)
            command = [program, "render", self.folder / "look.json", picture, "-o", out, *plain, *words]
            done = subprocess.run(command, capture_output=True, text=True)
        if done.returncode:
            sys.exit(done.stderr)
        return Image.open(out).convert("RGB").copy()


def look(stock=None, scan=None, negative=None, printed=None):
    """Without texture but what is asked for."""
    return {
        "lookwright": 3,
        "negative": {"stock": stock or DAY, **(negative or {})},
        "scan": scan or {},
        "print": {"positive": printed} if printed else {},
    }


def sheet(path, rows):
    """Rows of (words, picture) as one labelled JPEG."""
    width = max(sum(p.width + GAP for _, p in row) for row in rows) + GAP
    height = sum(max(p.height for _, p in row) + LINE + GAP for row in rows) + GAP
    page = Image.new("RGB", (width, height), (46, 46, 46))
    draw, y = ImageDraw.Draw(page), GAP
    for row in rows:
        x = GAP
        for words, picture in row:
            draw.text((x, y + 2), words, font=FONT, fill=(215, 215, 215))
            page.paste(picture, (x, y + LINE))
            x += picture.width + GAP
        y += max(p.height for _, p in row) + LINE + GAP
    page.save(path, quality=85)
    print(path)


def small(picture, width):
    return picture.resize((width, round(picture.height * width / picture.width)), Image.Resampling.LANCZOS)


def lamps(nanometres=(660, 635, 620, 590, 550, 520, 470, 445)):
    """Bands over a dim grey, -2 to +8 stops from left to right."""
    bands = dict(zip(sp.LED_NM, sp.leds(sp.light("day")) @ sp.to_ap1(sp.light("day"))))
    stops = np.linspace(-2, 8, 720)
    rows = [np.outer(0.18 * 2**stops, bands[nm])[None] + 0.005 for nm in nanometres]
    return np.concatenate([np.repeat(row, 34, 0) for row in rows])


def chart(stops):
    patches = (sp.CHART @ sp.to_ap1(sp.light("day"))).reshape(4, 6, 3) * 2.0**stops
    return np.repeat(np.repeat(patches, 34, 0), 34, 1)


def window(stops=4.0, width=640, height=400):
    """A window that much over mid-grey with mullions, lamps of three brightnesses below it, in a dim room."""
    light = np.full((height, width, 3), 0.012)
    light[50:250, 80:380] = 0.18 * 2**stops
    for at in (150, 226, 302):
        light[50:250, at : at + 8] = 0.012
    light[146:154, 80:380] = 0.012
    y, x = np.mgrid[:height, :width]
    for i, over in enumerate((4, 6, 8)):
        for j, tint in enumerate(((1, 0.8, 0.55), (1, 0.08, 0.03))):
            inside = (x - 440 - 70 * i) ** 2 + (y - 120 - 130 * j) ** 2 < 49
            light[inside] = np.array(tint) * 0.18 * 2**over
    return light


def main(folder):
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        bench = Bench(scratch)
        plain = ("--no-texture",)
        title = "660, 635, 620, 590, 550, 520, 470, 445 nm, -2 to +8 stops: day 250"
        rows = [[(title, bench.render(lamps(), look(), *plain))]]
        if BEFORE:
            rows.insert(0, [("before", bench.render(lamps(), OLDER, *plain, program=BEFORE))])
        sheet(folder / "lamps.jpg", rows)

        rows = []
        for name, (balance, speed) in list(STARTS.items())[:3]:
            stock = {"balance": balance, "speed": speed, "scene_light": 3200 if balance == "lamp" else 5500}
            through = [(f"{name} {s:+d}", bench.render(chart(s), look(stock), *plain)) for s in (-3, -2, -1, 0, 1)]
            rows.append(through)
        if BEFORE:
            older = lambda s: bench.render(chart(s), OLDER, *plain, program=BEFORE)
            rows.append([(f"before {s:+d}", older(s)) for s in (-3, -2, -1, 0, 1)])
        sheet(folder / "under.jpg", rows)

        frames = {frame["id"]: frame for frame in json.loads((DEMO / "frames.json").read_text())["frames"]}

        def demo(name, settings, *words):
            frame = frames[name]
            trim = frame.get("trim", {}).get("exposure_stops", 0.0)
            return bench.render(DEMO / frame["file"], settings, "--from", frame["encoding"], "--exposure", str(trim), *words)

        rows = []
        for name in ("fish-market-noon", "night-ferry"):
            row = [("without a look", small(demo(name, None), 400))]
            kelvin = frames[name]["scene_light_k"]
            for words, (balance, speed) in list(STARTS.items())[:3]:
                stock = {"balance": balance, "speed": speed, "scene_light": kelvin}
                row.append((words, small(demo(name, look(stock), *plain), 400)))
            rows.append(row)
        sheet(folder / "stocks.jpg", rows)

        prints = {"straight": None, **{c: {"on": True, "class": c} for c in ("soft", "normal", "rich")}}
        prints["silver kept"] = {"on": True, "silver": 1.0}
        rows = [
            [(words, small(demo(name, look(printed=p), *plain), 330)) for words, p in prints.items()]
            for name in ("fish-market-noon", "parlour-window")
        ]
        sheet(folder / "print.jpg", rows)

        rows = []
        for method in ("base-ring", "red-scatter", "veil"):
            row = []
            for backing in ("black", "undercoat", "none"):
                halation = {"on": True, "method": method, "backing": backing, "strength": 0.25}
                film = look(negative={"halation": halation, "grain": {"on": False}, "dust": {"on": False}})
                row.append((f"{method}, backing {backing}", small(bench.render(window(), film), 430)))
            rows.append(row)
        sheet(folder / "backing.jpg", rows)

        row = [[("without a look", small(demo("fish-market-noon", None), 330))], []]
        for filter_ in ("none", "light-red", "yellow", "green"):
            stock = {"balance": "panchromatic", "speed": 250, "filter": filter_}
            row[0 if filter_ in ("none", "light-red") else 1].append(
                (f"panchromatic, filter {filter_}", small(demo("fish-market-noon", look(stock), *plain), 330))
            )
        stock = {"balance": "orthochromatic", "speed": 50}
        row[1].append(("orthochromatic", small(demo("fish-market-noon", look(stock), *plain), 330)))
        sheet(folder / "monochrome.jpg", row)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
