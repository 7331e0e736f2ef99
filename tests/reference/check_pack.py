"""A hand-over pack in an editor's hands.

The pack holds two looks on two stocks for camera log in full and legal range, a picture made for a
screen, and scene light, at grid 33. Checked is that

- the same command gives the same bytes twice;
- OpenColorIO loads every .cube and CLF in it;
- the test chart through OpenColorIO with our table is the expected picture in the pack within what
  the pack's own note promises for its worst patch (plus one code of 10 bits for rounding), within
  5 codes on its greys, and within 1.2 codes on average;
- that promise is one worth having: at most 9 codes of 10 bits at grid 33, which only the purest
  patches come near, in the channel that is almost black there;
- the two halves, one after the other, are the whole within 8 codes on the chart;
- what the note says of a file's SHA-256 is so.

Needs LOOKWRIGHT (the native command line), and ffmpeg on the path to read pictures.
"""

import hashlib
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import zipfile

import numpy as np
import PyOpenColorIO as ocio

LOOKWRIGHT = os.environ["LOOKWRIGHT"]
CODE = 1 / 1023
PROMISE_MAX = 9
GREYS_MAX = 5
MEAN_MAX = 1.2
HALVES_MAX = 8
WIDTH, HEIGHT = 480, 320
GREY_ROWS = 80

failures = []


def check(passed, sentence):
    print(("  ok   " if passed else "  FAIL ") + sentence)
    if not passed:
        failures.append(sentence)


def run(*words):
    done = subprocess.run([str(w) for w in words], capture_output=True, check=False)
    if done.returncode != 0:
        command = " ".join(str(w) for w in words)
        sys.exit(f"{command}\n{done.stderr.decode(errors='replace')}")
    return done.stdout


def picture(path):
    """A PNG or OpenEXR picture as floats."""
    kind = "gbrpf32le" if path.suffix == ".exr" else "rgb48le"
    out = run("ffmpeg", "-v", "error", "-i", path, "-f", "rawvideo", "-pix_fmt", kind, "-")
    if path.suffix == ".exr":
        green, blue, red = np.frombuffer(out, "<f4").reshape(3, HEIGHT, WIDTH)
        return np.stack([red, green, blue], axis=-1)
    return np.frombuffer(out, "<u2").reshape(HEIGHT, WIDTH, 3) / np.float32(65535)


def opencolorio(table, rgb):
    ocio.ClearAllCaches()
    transform = ocio.FileTransform(src=str(table))
    if table.suffix == ".cube":
        transform.setInterpolation(ocio.INTERP_TETRAHEDRAL)
    processor = ocio.Config.CreateRaw().getProcessor(transform)
    cpu = processor.getOptimizedCPUProcessor(ocio.OPTIMIZATION_NONE)
    pixels = np.ascontiguousarray(rgb, np.float32).copy()
    cpu.applyRGB(pixels)
    return pixels


def promised(note):
    """The codes off that the note promises for charts, one a row of its table."""
    rows = (re.split(r"  +", line.strip()) for line in note.splitlines())
    numbers = r"[\d.]+ [\d.]+ [\d.]+"
    return [float(cells[6]) for cells in rows if len(cells) == 7 and re.fullmatch(numbers, cells[5])]


def main():
    if shutil.which("ffmpeg") is None:
        sys.exit("no ffmpeg on the path: install it (on Debian: apt-get install ffmpeg)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        look = folder / "look.json"
        run(LOOKWRIGHT, "new", "--stock", "daylight-250", "-o", look)
        words = [
            "pack", look, "--from", "logc3,slog3-sgamut3cine,rec709,acescg",
            "--stock", "daylight-250,tungsten-500", "--range", "full,legal",
            "--split", "whole,camera-to-scan,scan-to-screen",
        ]  # fmt: skip
        packs = [folder / "one.zip", folder / "two.zip"]
        for pack in packs:
            run(LOOKWRIGHT, *words, "-o", pack)
        check(packs[0].read_bytes() == packs[1].read_bytes(), "the same bytes twice")

        opened = folder / "opened"
        with zipfile.ZipFile(packs[0]) as archive:
            check(archive.testzip() is None, "Python's zipfile finds the archive whole")
            archive.extractall(opened)
        check_pack(opened)
    if failures:
        sys.exit(f"{len(failures)} checks failed")


def check_pack(opened):
    note = (opened / "README.txt").read_text(encoding="utf-8")
    files = [p for p in opened.rglob("*") if p.is_file() and not p.name.startswith("README")]
    told = re.findall(r"^([0-9a-f]{64})  (\S+)$", note, re.MULTILINE)
    right = {
        (hashlib.sha256(p.read_bytes()).hexdigest(), p.relative_to(opened).as_posix())
        for p in files
    }
    check(set(told) == right, f"the note's {len(told)} check-sums are those of the files")

    promises = promised(note)
    worst = max(promises, default=np.inf)
    check(worst <= PROMISE_MAX, f"codes off on charts: at most {worst}")

    tables = sorted(p for p in files if p.suffix in {".cube", ".clf"})
    check(len(tables) > 0, f"{len(tables)} tables")
    for expected_path in sorted(opened.glob("test-charts/*/expected_*.png")):
        check_chart(opened, expected_path, worst)
    # The tables that no chart goes through load as well.
    for table in tables:
        values = opencolorio(table, np.full((4, 3), 0.4, np.float32))
        if not np.all(np.isfinite(values)):
            check(False, f"{table.name} gives finite numbers")


def check_chart(opened, expected_path, promise):
    _, slug, stock, output = expected_path.stem.split("_")
    folder = expected_path.parent
    chart = picture(next(folder.glob("chart.*")))
    expected = picture(expected_path)
    names = f"{slug}_{stock}_{folder.name}_to_"
    for table in sorted((opened / stock).glob(f"{names}{output}_grid*.c*")):
        far = np.abs(opencolorio(table, chart) - expected) / CODE
        most, mean, greys = far.max(), far.mean(), far[:GREY_ROWS].max()
        check(
            most <= promise + 1 and mean <= MEAN_MAX and greys <= GREYS_MAX,
            f"{table.name}: mean {mean:.2f}, greys {greys:.2f}, largest {most:.2f} codes of 10 bits",
        )
    for ending in ["cube", "clf"]:
        first = next((opened / stock).glob(f"{names}film-scan_grid*.{ending}"))
        second = next((opened / stock).glob(f"{slug}_{stock}_film-scan_to_*_grid*.{ending}"))
        far = np.abs(opencolorio(second, opencolorio(first, chart)) - expected).max() / CODE
        check(far <= HALVES_MAX, f"{folder.name}, {stock}, halves as .{ending}: {far:.2f} codes")


if __name__ == "__main__":
    main()
