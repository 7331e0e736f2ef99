"""Tables that the command line writes, in other people's hands.

For a starting look and LogC3, at grids 17, 33 and 65:

- OpenColorIO loads our .cube, CLF, .csp and .spi3d and gives what our own reader gives, within 1e-5;
- little-cms takes our ICC device link and gives the same, within 2 codes of 16 bits (values held to
  0 ... 1, as the format does);
- colour-science reads our .cube and gives the same, within 1e-5;
- ffmpeg's lut3d filter renders a frame from our .cube within 1/255 of ours;
- a frame through the table is near the same frame rendered without one: at grid 33 the mean
  difference is below 1/1023 and 99.9 % are below 13/1023, at grid 65 below 0.3 and 6.5;

For the same look and scene light (ACEScg) with components below zero, at grid 33, OpenColorIO makes of
our .cube what it makes of our CLF, whose logarithms are exact, within 1 code of 10 bits and 0.01 on
average, and of our .csp within 4.5 and 0.15: it makes 65536 equal steps of the curves there, at places
that it counts in 32-bit float, which is coarse beside black.

And tables.json still holds what this OpenColorIO makes of the files it speaks of.

Needs LOOKWRIGHT (the native command line), cargo, and ffmpeg on the path.
"""

import ctypes
import ctypes.util
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import warnings

warnings.filterwarnings("ignore")  # colour-science announces optional parts that are missing.

import colour  # noqa: E402
import numpy as np  # noqa: E402
import PIL  # noqa: E402
import PyOpenColorIO as ocio  # noqa: E402

import tables  # noqa: E402

LOOKWRIGHT = os.environ["LOOKWRIGHT"]
ENCODING = "logc3"
GRIDS = (17, 33, 65)
READERS_AGREE = 1e-5
# One code of 8 bits; ffmpeg works on 16-bit pictures here, so this is mostly its arithmetic.
FFMPEG_AGREES = 1 / 255
# Two codes of 16 bits: the lattice is rounded to them, and so is what comes out.
LINK_AGREES = 2 / 65535
CODE = 1 / 1023
# Largest and mean in codes of 10 bits: measured (0.92 and 0.005; 4.12 and 0.121).
LIGHT_AGREES = {"cube": (1.0, 0.01), "csp": (4.5, 0.15)}
# Mean and 99.9 % by grid, in codes of 10 bits: measured, nodes being fitted (0.89 and 12.4, 0.24 and
# 6.3; sampled nodes gave 7.0 for the last).
NEAR = {33: (1.0, 13.0), 65: (0.3, 6.5)}

failures = []


def check(passed, sentence):
    print(("  ok   " if passed else "  FAIL ") + sentence)
    if not passed:
        failures.append(sentence)


def run(*words, data=None):
    done = subprocess.run([str(w) for w in words], input=data, capture_output=True, check=False)
    if done.returncode != 0:
        command = " ".join(str(w) for w in words)
        sys.exit(f"{command}\n{done.stderr.decode(errors='replace')}")
    return done.stdout


def table_tool(command, table, data=None):
    """Our own reader and writer, built beside the command line."""
    name = "table_tool.exe" if os.name == "nt" else "table_tool"
    return run(pathlib.Path(LOOKWRIGHT).parent / "examples" / name, command, table, data=data)


def ours(table, rgb):
    out = table_tool("apply", table, rgb.astype("<f4").tobytes())
    return np.frombuffer(out, "<f4").reshape(rgb.shape)


def opencolorio(table, rgb):
    ocio.ClearAllCaches()
    transform = ocio.FileTransform(src=str(table))
    if table.suffix != ".clf":
        transform.setInterpolation(ocio.INTERP_TETRAHEDRAL)
    processor = ocio.Config.CreateRaw().getProcessor(transform)
    cpu = processor.getOptimizedCPUProcessor(ocio.OPTIMIZATION_NONE)
    pixels = np.ascontiguousarray(rgb, np.float32)
    cpu.applyRGB(pixels)
    return pixels


def colour_science(table, rgb):
    lut = colour.read_LUT(str(table))
    interpolate = colour.algebra.table_interpolation_tetrahedral
    # Its reader's tables do not clamp to the domain; ours do.
    return lut.apply(np.clip(rgb, 0, 1), interpolator=interpolate)


def little_cms():
    """The little-cms that Pillow brings along; Pillow itself has no way to use a device link alone."""
    folder = pathlib.Path(PIL.__path__[0])
    names = ["../pillow.libs/liblcms2*", ".dylibs/liblcms2*"]
    found = [path for name in names for path in folder.glob(name)]
    library = ctypes.CDLL(str(found[0]) if found else ctypes.util.find_library("lcms2"))
    pointer, number = ctypes.c_void_p, ctypes.c_uint32
    library.cmsOpenProfileFromMem.argtypes = [ctypes.c_char_p, number]
    library.cmsOpenProfileFromMem.restype = pointer
    library.cmsCreateTransform.argtypes = [pointer, number, pointer, number, number, number]
    library.cmsCreateTransform.restype = pointer
    library.cmsDoTransform.argtypes = [pointer, pointer, pointer, number]
    return library


def device_link(path, rgb16):
    """Codes of 16 bits through a device link, without little-cms's own shortcuts."""
    library, bytes_ = little_cms(), path.read_bytes()
    profile = library.cmsOpenProfileFromMem(bytes_, len(bytes_))
    rgb_16, unoptimised, uncached = 4 << 16 | 3 << 3 | 2, 0x0100, 0x0040
    transform = library.cmsCreateTransform(profile, rgb_16, None, rgb_16, 0, unoptimised | uncached)
    if not profile or not transform:
        sys.exit(f"little-cms does not take {path}")
    source = np.ascontiguousarray(rgb16, np.uint16)
    out = np.empty_like(source)
    library.cmsDoTransform(transform, source.ctypes.data, out.ctypes.data, len(source))
    return out / 65535


def lights():
    """Scene light over 15 stops, a third of its components below zero as in pure lamps."""
    rng = np.random.default_rng(20240502)
    light = np.exp2(rng.uniform(-9, 6, (20000, 3)))
    sign = np.where(rng.random((20000, 3)) < 1 / 3, -0.2, 1.0)
    return light * sign


def frame():
    """The 24 patches of the colour chart and mixtures of them, from 6 stops under to 2 stops over
    the key light, as surfaces stand in a picture; greys go on to 5 stops over, as lamps and skies.

    The chart as measured for colour-science's "BabelColor Average", put into the camera's gamut and
    encoded by colour-science.
    """
    chart = colour.CCS_COLOURCHECKERS["BabelColor Average"]
    xyz = np.array([colour.xyY_to_XYZ(xyy) for xyy in chart.data.values()])
    camera = colour.RGB_COLOURSPACES["ARRI Wide Gamut 3"]
    light = colour.XYZ_to_RGB(xyz, camera, chart.illuminant, "Bradford")
    neighbours = zip(light, np.roll(light, -1, axis=0), strict=True)
    patches = np.concatenate([np.linspace(a, b, 12, endpoint=False) for a, b in neighbours])
    greys = np.repeat(np.linspace(0.02, 0.9, len(patches))[:, None], 3, axis=1)
    surfaces = [patches * 2.0**stops for stops in np.linspace(-6, 2, 108)]
    lamps = [greys * 2.0**stops for stops in np.linspace(0, 5, 36)]
    code = colour.models.log_encoding_ARRILogC3(np.array(surfaces + lamps))
    return np.round(np.clip(code, 0, 1) * 65535).astype(np.uint16)


def ffmpeg(source, width, height, *words):
    """A picture through ffmpeg as 16-bit RGB."""
    out = run(
        "ffmpeg", "-v", "error", "-i", source, *words,
        "-f", "rawvideo", "-pix_fmt", "rgb48le", "-",
    )  # fmt: skip
    return np.frombuffer(out, "<u2").reshape(height, width, 3) / 65535


def write_png(path, pixels):
    height, width, _ = pixels.shape
    run(
        "ffmpeg", "-v", "error", "-y", "-f", "rawvideo", "-pix_fmt", "rgb48le",
        "-s", f"{width}x{height}", "-i", "-", "-frames:v", "1", "-pix_fmt", "rgb48be", path,
        data=pixels.astype("<u2").tobytes(),
    )  # fmt: skip


def largest(a, b):
    return float(np.max(np.abs(np.asarray(a, float) - np.asarray(b, float))))


def check_grid(folder, look, grid, picture, exact):
    print(f"grid {grid}")
    cube = folder / f"look-{grid}.cube"
    run(LOOKWRIGHT, "table", look, "--from", ENCODING, "--grid", grid, "-o", cube)
    clf = folder / f"look-{grid}.clf"
    clf.write_bytes(table_tool("clf", cube))
    others = {ending: folder / f"look-{grid}.{ending}" for ending in ("csp", "spi3d", "icc")}
    for path in others.values():
        run(LOOKWRIGHT, "table", look, "--from", ENCODING, "--grid", grid, "-o", path)

    rng = np.random.default_rng(20240501)
    inside = rng.random((20000, 3))
    everywhere = np.concatenate([inside, rng.uniform(-1, 2, (2000, 3)), np.eye(3), 1 - np.eye(3)])
    mine = ours(cube, everywhere)
    for name, theirs in [
        ("OpenColorIO, .cube", opencolorio(cube, everywhere)),
        ("OpenColorIO, CLF", opencolorio(clf, everywhere)),
        ("our own reader, CLF", ours(clf, everywhere)),
        ("OpenColorIO, .csp", opencolorio(others["csp"], everywhere)),
        ("OpenColorIO, .spi3d", opencolorio(others["spi3d"], everywhere)),
        ("our own reader, .csp", ours(others["csp"], everywhere)),
        ("our own reader, .spi3d", ours(others["spi3d"], everywhere)),
        ("colour-science, .cube", colour_science(cube, everywhere)),
    ]:
        far = largest(mine, theirs)
        check(far <= READERS_AGREE, f"{name}: {far:.1e} from our reading of the .cube")

    inside16 = np.round(inside * 65535).astype(np.uint16)
    linked = device_link(others["icc"], inside16)
    far = largest(np.clip(ours(cube, inside16 / 65535), 0, 1), linked)
    check(far <= LINK_AGREES, f"little-cms, device link: {far * 65535:.2f} codes of 16 bits from ours")

    height, width, _ = picture.shape
    through = ours(cube, (picture / 65535).reshape(-1, 3)).reshape(picture.shape)
    png = folder / "frame.png"
    filtered = ffmpeg(
        png, width, height, "-vf", f"format=gbrp16le,lut3d=file={cube}:interp=tetrahedral"
    )
    far = largest(through, filtered)
    check(far <= FFMPEG_AGREES, f"ffmpeg lut3d: {far * 255:.3f} codes of 8 bits from ours")

    difference = np.sort(np.abs(through - exact).ravel())
    mean = difference.mean() / CODE
    most = difference[int(len(difference) * 0.999)] / CODE
    sentence = (
        f"against the render without a table: mean {mean:.3f}, 99.9 % below {most:.2f}, "
        f"largest {difference[-1] / CODE:.2f} codes of 10 bits"
    )
    mean_max, most_max = NEAR.get(grid, (np.inf, np.inf))
    check(mean < mean_max and most < most_max, sentence)


def check_light(folder, look):
    print("scene light")
    paths = {ending: folder / f"light.{ending}" for ending in ("clf", "cube", "csp")}
    for path in paths.values():
        run(LOOKWRIGHT, "table", look, "--from", "acescg", "-o", path)
    light = lights()
    exact = opencolorio(paths["clf"], light)
    far = largest(ours(paths["clf"], light), exact)
    check(far <= READERS_AGREE * 10, f"our own reader, CLF: {far:.1e} from OpenColorIO's reading")
    for ending, (most_max, mean_max) in LIGHT_AGREES.items():
        difference = np.abs(opencolorio(paths[ending], light) - exact) / CODE
        most, mean = float(difference.max()), float(difference.mean())
        check(
            most <= most_max and mean <= mean_max,
            f"OpenColorIO, .{ending}: mean {mean:.3f}, largest {most:.2f} codes of 10 bits from the CLF",
        )


def same_values(made, committed):
    """Whether both speak of the same files and their values agree to 1 in a million."""
    for key in tables.FOLDERS:
        if made[key].keys() != committed[key].keys():
            return False
        for name, values in made[key].items():
            if not np.allclose(values, committed[key][name], rtol=1e-6, atol=1e-6):
                return False
    return made["inputs"] == committed["inputs"]


def main():
    if shutil.which("ffmpeg") is None:
        sys.exit("no ffmpeg on the path: install it (on Debian: apt-get install ffmpeg)")
    committed = json.loads((tables.HERE / "tables.json").read_text(encoding="utf-8"))
    check(same_values(tables.document(), committed), "tables.json is what this OpenColorIO gives (else run tables.py again)")

    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        look = folder / "look.json"
        run(LOOKWRIGHT, "new", "--stock", "daylight-250", "-o", look)
        picture = frame()
        write_png(folder / "frame.png", picture)
        rendered = folder / "rendered.png"
        run(
            LOOKWRIGHT, "render", look, folder / "frame.png", "-o", rendered,
            "--from", ENCODING, "--depth", "16", "--no-texture",
        )  # fmt: skip
        exact = ffmpeg(rendered, picture.shape[1], picture.shape[0])
        for grid in GRIDS:
            check_grid(folder, look, grid, picture, exact)
        check_light(folder, look)
    if failures:
        sys.exit(f"{len(failures)} checks failed")


if __name__ == "__main__":
    main()
