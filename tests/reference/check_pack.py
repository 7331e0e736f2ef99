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
- what the note, SHA256SUMS and the manifest say of a file's SHA-256 is so, and the manifest is as its JSON
  Schema says;
- chart.json holds what the charts and the expected pictures hold;
- grain laid as the pack says, with the gain's table read by OpenColorIO, is as strong as grain that is
  rendered, within 15 % on greys from black to white, and the typed expression of the gain is its table;
- OpenColorIO loads the pack's config.ocio and finds it valid; from each camera's space, the view of the same
  encoding, and no other, is offered and gives the table's own pixels within a tenth of a code of 10
  bits; its looks, one for each table to scene code, give that code so, too.

Needs LOOKWRIGHT (the native command line), and ffmpeg on the path to read pictures.
"""

import hashlib
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import zipfile

import jsonschema
import numpy as np
import PyOpenColorIO as ocio

LOOKWRIGHT = os.environ["LOOKWRIGHT"]
CODE = 1 / 1023
PROMISE_MAX = 9
GREYS_MAX = 5
MEAN_MAX = 1.2
HALVES_MAX = 8
VIEW_MAX = 0.1
WIDTH, HEIGHT = 480, 320
SCHEMA = pathlib.Path(__file__).parents[2] / "crates/handover/pack.schema.json"
# How far the deviation of laid grain may be off; codes of LogC3 from black to white, of 1023.
GRAIN_MAX = 0.15
GREYS = [100, 180, 260, 330, 400, 470, 560, 720]
PLATE = (1920, 64)
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
    if table.suffix == ".cube" and not table.name.endswith("_gain.cube"):
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
            "--split", "whole,camera-to-scan,scan-to-screen", "--scene", "acescct,slog3-sgamut3cine",
            "--undo", "plain,aces",
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
        check_grain(folder)
    if failures:
        sys.exit(f"{len(failures)} checks failed")


def check_pack(opened):
    note = (opened / "README.txt").read_text(encoding="utf-8")
    everything = [p for p in opened.rglob("*") if p.is_file()]
    last = {"manifest.json", "SHA256SUMS"}
    files = [p for p in everything if not p.name.startswith("README") and p.name not in last]

    def sums(paths):
        return {
            (hashlib.sha256(p.read_bytes()).hexdigest(), p.relative_to(opened).as_posix())
            for p in paths
        }

    told = re.findall(r"^([0-9a-f]{64})  (\S+)$", note, re.MULTILINE)
    check(set(told) == sums(files), f"the note's {len(told)} check-sums are those of the files")
    lines = (opened / "SHA256SUMS").read_text().splitlines()
    all_but_it = [p for p in everything if p.name != "SHA256SUMS"]
    right = {tuple(line.split("  ")) for line in lines} == sums(all_but_it)
    check(right, f"SHA256SUMS has {len(lines)} check-sums, of all other files")
    check_manifest(opened, sums([p for p in everything if p.name not in last]))

    promises = promised(note)
    worst = max(promises, default=np.inf)
    check(worst <= PROMISE_MAX, f"codes off on charts: at most {worst}")

    tables = sorted(p for p in files if p.suffix in {".cube", ".clf"})
    check(len(tables) > 0, f"{len(tables)} tables")
    for expected_path in sorted(opened.glob("test-charts/*/expected_*.png")):
        check_chart(opened, expected_path, worst)
    check_config(opened)
    # The tables that no chart goes through load as well.
    for table in tables:
        values = opencolorio(table, np.full((4, 3), 0.4, np.float32))
        if not np.all(np.isfinite(values)):
            check(False, f"{table.name} gives finite numbers")


def check_manifest(opened, sums):
    manifest = json.loads((opened / "manifest.json").read_text())
    schema = json.loads(SCHEMA.read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    wrong = list(jsonschema.Draft202012Validator(schema).iter_errors(manifest))
    check(not wrong, f"the manifest is as its schema says {[e.message for e in wrong[:3]]}")
    # A schema that takes anything proves nothing.
    broken = json.loads(json.dumps(manifest))
    table = next(file for file in broken["files"] if file["role"] == "table")
    del table["errors"]
    refused = not jsonschema.Draft202012Validator(schema).is_valid(broken)
    check(refused, "the schema refuses a table without its errors")
    told = {(file["sha256"], file["path"]) for file in manifest["files"]}
    check(told == sums, f"the manifest's {len(told)} check-sums are those of the files")
    sizes = all((opened / f["path"]).stat().st_size == f["bytes"] for f in manifest["files"])
    check(sizes, "sizes in the manifest are those of the files")
    for path in sorted(opened.glob("test-charts/*/chart.json")):
        values = json.loads(path.read_text())
        side, columns = values["patch_px"], values["columns"]

        def middles(name):
            pixels = picture(path.parent / name)
            places = [divmod(i, columns) for i in range(len(values["patches"]))]
            return np.array([pixels[r * side + side // 2, c * side + side // 2] for r, c in places])

        given = np.array([patch["in"] for patch in values["patches"]])
        far = np.abs(given - middles(values["file"])).max()
        for i, out in enumerate(values["out"]):
            patches = np.array([patch["out"][i] for patch in values["patches"]])
            far = max(far, np.abs(patches.clip(0, 1) - middles(out["file"])).max())
        check(far < 2e-5, f"{path.parent.name}/chart.json is what the pictures hold: {far:.1e}")


def even_grey(path, code):
    """A picture of one grey, a code of 1023, as PNG of 16 bits."""
    width, height = PLATE
    pixels = np.full((height, width, 3), round(code / 1023 * 65535), "<u2").tobytes()
    size = ["-s", f"{width}x{height}", "-pix_fmt", "rgb48le", "-f", "rawvideo"]
    words = ["ffmpeg", "-v", "error", "-y", *size, "-i", "-", str(path)]
    subprocess.run(words, input=pixels, check=True)


def pixels_of(path):
    out = run("ffmpeg", "-v", "error", "-i", path, "-f", "rawvideo", "-pix_fmt", "rgb48le", "-")
    return np.frombuffer(out, "<u2").reshape(-1, 3) / 65535.0


def check_grain(folder):
    """Rendered grain and laid grain, on a look with a print of its own and one in black and white."""
    for name in ["matinee", "storm-warning", "grey-quay"]:
        look = json.loads((SCHEMA.parents[2] / f"web/looks/{name}.json").read_text())
        # Grain alone: no other texture shows on an even grey, but for a lens's vignette.
        look.get("lens", {}).pop("vignette", None)
        path = folder / f"{name}.json"
        path.write_text(json.dumps(look))
        pack, opened = folder / f"{name}.zip", folder / name
        size = ["--plate-size", f"{PLATE[0]}x{PLATE[1]}", "--plate-frames", "1"]
        run(LOOKWRIGHT, "pack", path, "--from", "logc3", "--plates", *size, "-o", pack)
        with zipfile.ZipFile(pack) as archive:
            archive.extractall(opened)
        manifest = json.loads((opened / "manifest.json").read_text())
        of = {(f["role"], f.get("kind"), f.get("format")): f for f in manifest["files"]}
        plate_file = of["plate", "grain", None]
        plate = pixels_of(opened / plate_file["path"])
        gain_file = of["plate-gain", "grain", None]
        table = opened / of["table", None, "cube"]["path"]
        worst = 0.0
        for code in GREYS:
            frame, out = folder / "grey.png", folder / "rendered.png"
            even_grey(frame, code)
            words = ["--from", "logc3", "--to", "rec709", "--depth", "16", "--overwrite", "-o", out]
            run(LOOKWRIGHT, "render", path, frame, *words)
            rendered = pixels_of(out).std(axis=0)
            graded = opencolorio(table, np.full((1, 3), code / 1023, np.float32))
            gain = opencolorio(opened / gain_file["path"], graded)
            laid = (graded + gain * (2 * plate - 1)).clip(0, 1).std(axis=0)
            worst = max(worst, np.abs(laid / rendered - 1).max())
        check(worst < GRAIN_MAX, f"{name}: laid grain is off by {worst:.1%} at most")
        x = np.linspace(0, 1, 997)
        read = opencolorio(opened / gain_file["path"], np.stack([x] * 3, axis=-1))
        for channel, expression in enumerate(gain_file["expression"]):
            scope = {"min": np.minimum, "max": np.maximum, "x": x, "__builtins__": {}}
            far = np.abs(eval(expression, scope) - read[:, channel]).max()  # noqa: S307
            told = gain_file["expression_off"]
            if far > told + 0.002:
                check(False, f"{name}: the expression is {far:.3f} off its table, said is {told}")


def check_config(opened):
    ocio.ClearAllCaches()
    config = ocio.Config.CreateFromFile(str(opened / "config.ocio"))
    config.validate()
    rng = np.random.default_rng(20240501)
    codes = rng.random((4000, 3)).astype(np.float32)
    light = (np.exp2(rng.uniform(-9, 5, (4000, 3))) - 0.01).astype(np.float32)
    views, worst = 0, 0.0
    for display in config.getDisplays():
        for view in config.getViews(ocio.VIEW_DISPLAY_DEFINED, display):
            space = view.split(" from ")[1]
            pixels = (light if space == "acescg-full" else codes).copy()
            if space.endswith("-legal"):
                # Of a picture for a screen, what is blacker than black has no light to come back from.
                pixels = (64 + pixels * 876) * np.float32(CODE)
            table = next(opened.glob(f"*/{config.getDisplayViewColorSpaceName(display, view)}.clf"))
            wanted = opencolorio(table, pixels)
            processor = config.getProcessor(space, display, view, ocio.TRANSFORM_DIR_FORWARD)
            processor.getDefaultCPUProcessor().applyRGB(pixels)
            worst = max(worst, float(np.abs(pixels - wanted).max() / CODE))
            views += 1
            offered = config.getViews(display, space)
            if view not in offered or any(not name.endswith(f" from {space}") for name in offered):
                check(False, f"{view} is offered for {space} and others are not")
    check(views > 0 and worst <= VIEW_MAX, f"config.ocio: {views} views, {worst:.3f} codes from their tables")
    check_looks(opened, config, codes, light)


def check_looks(opened, config, codes, light):
    """A look takes a clip's space to a scene code's as its table does."""
    looks, worst = list(config.getLookNames()), 0.0
    for name in looks:
        slug, stock, space, _, given, grid = name.split(" ")
        encoding = given.rsplit("-", 1)[0]
        pixels = (light if space == "acescg-full" else codes).copy()
        if space.endswith("-legal"):
            pixels = (64 + pixels * 876) * np.float32(CODE)
        wanted = opencolorio(opened / stock / f"{slug}_{stock}_{space}_to_{given}_{grid}.clf", pixels)
        transform = ocio.LookTransform(src=space, dst=f"{encoding}-full", looks=name)
        config.getProcessor(transform).getDefaultCPUProcessor().applyRGB(pixels)
        worst = max(worst, float(np.abs(pixels - wanted).max() / CODE))
    check(looks and worst <= VIEW_MAX, f"config.ocio: {len(looks)} looks, {worst:.3f} codes from their tables")


def check_chart(opened, expected_path, promise):
    _, slug, stock, output = expected_path.stem.split("_")
    folder = expected_path.parent
    chart = picture(next(p for p in folder.glob("chart.*") if p.suffix in {".png", ".exr"}))
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
