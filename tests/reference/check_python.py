"""The Python package: the bytes of the command line, every dtype and shape, sentences for what is wrong.

Outside sources: colour-science for decoded
codes, OpenColorIO for tables, NumPy for the rounding of halves. Run by `cargo xtask test reference`.
"""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
from PIL import Image

ROOT = Path(__file__).parents[2]
LOOKWRIGHT = os.environ["LOOKWRIGHT"]
PACKAGE = ROOT / "crates/python"


def install(folder):
    """The package with the extension that was built beside the command line, as pip would put them.

    (`pip install ./crates/python` builds everything once more, for a list of packages of its own.)
    """
    shutil.copytree(PACKAGE / "python/lookwright", folder / "lookwright")
    built = {"win32": ("_core.dll", "_core.pyd"), "darwin": ("lib_core.dylib", "_core.abi3.so")}
    library, extension = built.get(sys.platform, ("lib_core.so", "_core.abi3.so"))
    shutil.copy(Path(LOOKWRIGHT).with_name(library), folder / "lookwright" / extension)
    sys.path.insert(0, str(folder))


def run(*arguments, **more):
    words = [LOOKWRIGHT, *map(str, arguments)]
    return subprocess.run(words, check=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE, **more).stdout


def refused(call, words, kind=ValueError):
    try:
        call()
    except kind as error:
        assert words in str(error), error
    else:
        raise AssertionError(f"{words}: was taken")


def bytes_of_the_command_line(lw, folder):
    """Rendered by both: 8 bits as a file, 16 and floats as raw frames."""
    random = np.random.default_rng(20)
    ramp = np.linspace(0.05, 0.9, 96)[None, :, None] * np.ones((64, 1, 3))
    code = np.clip(ramp + random.normal(0, 0.02, ramp.shape), 0, 1)
    look = lw.Look.new("noon")
    look["negative.grain.seed"] = 77
    look["scan.contrast.slope"] = 1.7
    file = folder / "look.json"
    look.save(file)
    assert lw.Look.load(file) == look
    shown = json.loads(run("trace", file, "--code", "0.4,0.4,0.4", "--from", "logc3", "--json"))
    render = lw.Renderer(look, source="logc3", screen="srgb")
    assert np.allclose([point["values"] for point in render.trace([0.4] * 3)],
                       [point["values"] for point in shown], rtol=1e-6)
    eight = np.round(code * 255).astype(np.uint8)
    Image.fromarray(eight).save(folder / "ferry.0007.png")
    common = ["--from", "logc3", "--to", "srgb"]
    for option, arguments in [(["--seed", "look"], {}), ([], {"shot": "ferry"})]:
        run("render", file, folder / "ferry.0007.png", "-o", folder / "out.png", "--overwrite", *common, *option)
        written = np.asarray(Image.open(folder / "out.png"))
        made = lw.Renderer(look, source="logc3", screen="srgb", **arguments)(eight, frame=7)
        assert (made == written).all(), ("8 bits", option)
    for sort, dtype in [("rgb16", np.uint16), ("rgbf32", np.float32)]:
        frames = np.stack([code, code[::-1]])
        frames = np.round(frames * 65535).astype(dtype) if sort == "rgb16" else frames.astype(dtype)
        raw = ["--raw", f"96x64:{sort}", "--first-frame", "7", "-o", "-", "--format", sort, *common]
        for option, arguments in [(["--seed", "look"], {}), (["--seed", "look", "--no-texture"], {"texture": False}),
                                  (["--seed", "5"], {"seed": 5})]:
            told = run("render", file, "-", *raw, *option, input=frames.tobytes())
            made = render(frames, frame=7, **arguments)
            assert made.dtype == dtype and made.shape == frames.shape
            assert made.tobytes() == told, (sort, option)
        for stage in ["intake", "negative", "scan"] if sort == "rgbf32" else []:
            told = run("render", file, "-", *raw, "--seed", "look", "--stage", stage, input=frames.tobytes())
            assert render(frames, frame=7, stage=stage).tobytes() == told, stage
    layouts(render, eight, code)


def layouts(render, eight, code):
    """Neither layout nor dtype nor threads change anything that they should not."""
    whole = render(eight, frame=7)
    apart = np.zeros((64, 192, 3), np.uint8)
    apart[:, ::2] = eight
    assert (render(apart[:, ::2], frame=7) == whole).all(), "not contiguous"
    assert (render(np.asfortranarray(eight), frame=7) == whole).all(), "columns first"
    assert (render(eight[None, None], frame=7) == whole).all(), "more dimensions"
    sixteen = eight.astype("<u2") * 257
    assert (render(sixteen.astype(">u2"), frame=7) == render(sixteen, frame=7)).all(), "high byte first"
    assert (render(sixteen, frame=7, dtype=">f4") == render(sixteen, frame=7, dtype="<f4")).all()
    both = render(np.stack([eight, eight]), frame=7)
    assert (both[0] == whole).all() and (both[1] == render(eight, frame=8)).all()
    assert (both[0] != both[1]).any(), "another frame has other grain"
    with ThreadPoolExecutor(4) as threads:
        found = list(threads.map(lambda _: render(eight, frame=7), range(8)))
    assert all((one == whole).all() for one in found), "threads"
    half = code.astype(np.float16)
    made = render(half, frame=7)
    assert made.dtype == np.float16
    assert (made == render(half.astype(np.float32), frame=7).astype(np.float16)).all()
    assert render(eight, dtype="float32").dtype == np.float32
    assert eight.flags.owndata and (eight == np.round(code * 255)).all(), "what came in is as it was"


def other_threads_run_meanwhile(render):
    """The interpreter's lock is free while the core works: another thread counts on."""
    counted, image = 0, np.full((1200, 1600, 3), 0.4, np.float32)
    with ThreadPoolExecutor(1) as thread:
        rendering = thread.submit(render, image)
        while not rendering.done():
            counted += 1
    # With the lock held this would come to a few: the interpreter switches every 5 ms at most.
    assert counted > 10_000, counted


def numbers_of_other_libraries(lw, folder):
    import colour
    import PyOpenColorIO as ocio

    code = np.linspace(0.1, 0.8, 50, dtype=np.float32)
    grey = lw.decode(np.stack([code] * 3, -1), "logc3")
    expected = colour.models.log_decoding_ARRILogC3(code.astype(np.float64))
    assert np.allclose(grey[:, 1], expected, rtol=2e-5, atol=2e-6)
    # A primary: the published matrix of the camera's space, through AP0 (colour-science) to AP1.
    red = lw.decode([[0.6, 0.1, 0.1]], "logc3")
    linear = colour.models.log_decoding_ARRILogC3(np.array([0.6, 0.1, 0.1]))
    to_ap1 = colour.matrix_RGB_to_RGB(colour.RGB_COLOURSPACES["ARRI Wide Gamut 3"],
                                      colour.RGB_COLOURSPACES["ACEScg"], "Bradford")
    assert np.allclose(red, to_ap1 @ linear, atol=2e-3), (red, to_ap1 @ linear)
    look = lw.Look.new("evening")
    render = lw.Renderer(look, source="logc3")
    told = render.trace([0.391] * 3)
    assert [point["name"] for point in told] == ["intake", "lens", "negative", "scan", "print", "screen"]
    assert abs(told[0]["values"][1] - 0.18) < 0.001, "LogC3 code 0.391 is mid-grey (its publication)"
    # The lattice's axes are B, G, R: OpenColorIO applies the table as the renderer does.
    table = render.table(33)
    axis = np.linspace(0, 1, 33, dtype=np.float32)
    blue, green, red = np.meshgrid(axis, axis, axis, indexing="ij")
    lattice = np.stack([red, green, blue], -1)
    rendered = render(lattice.reshape(33, 33 * 33, 3), texture=False).reshape(table.shape)
    # Its nodes are fitted: exact for greys and on the outer faces, near elsewhere.
    grey = np.arange(33)
    off = np.abs(rendered - table)
    assert off[grey, grey, grey].max() < 1e-6
    assert max(off[0].max(), off[-1].max()) < 1e-6
    assert 0 < off.mean() < 1e-2
    transform = ocio.Lut3DTransform(gridSize=33)
    transform.setData(np.ascontiguousarray(table.transpose(2, 1, 0, 3)).reshape(-1))
    transform.setInterpolation(ocio.INTERP_TETRAHEDRAL)
    applied = lattice.copy().reshape(-1, 3)
    processor = ocio.Config.CreateRaw().getProcessor(transform)
    processor.getDefaultCPUProcessor().applyRGB(applied)
    assert np.abs(applied - table.reshape(-1, 3)).max() < 1e-4
    look.save(folder / "evening.json")
    run("table", folder / "evening.json", "-o", folder / "evening.cube", "--from", "logc3", "--grid", "33")
    # Its exit code says how bad it is.
    told = subprocess.run([LOOKWRIGHT, "check", folder / "evening.cube", "--json"], stdout=subprocess.PIPE).stdout
    assert lw.check(folder / "evening.cube") == json.loads(told)
    assert lw.check(table)["size"] == lw.check(folder / "evening.cube")["size"]


def sentences(lw, folder):
    look = lw.Look.new()
    before = look.json()
    refused(lambda: look["scan.contrast.slop"], "no such setting", KeyError)
    refused(lambda: look["scan.contrast"], "no such setting", KeyError)
    refused(lambda: look.__setitem__("scan.contrast.slope", 1e9), "slope")
    refused(lambda: look.__setitem__("scan.contrast.slope", float("nan")), "")
    refused(lambda: look.__setitem__("negative.grain.on", "yes"), "on")
    assert look.json() == before, "what is refused changes nothing"
    refused(lambda: lw.Look("{}"), "")
    (folder / "none.json").write_text("no look")
    refused(lambda: lw.Look.load(folder / "none.json"), "none.json")
    refused(lambda: lw.Look.load(folder / "nowhere.json"), "nowhere.json", OSError)
    refused(lambda: lw.Look.new("noon-ish"), "evening")
    refused(lambda: lw.Renderer(look, source="logc"), "logc")
    refused(lambda: lw.Renderer(look, source="logc3", screen="cinema"), "cinema")
    refused(lambda: lw.Renderer(look, source="logc3", exposure=99), "exposure")
    render = lw.Renderer(look, source="logc3")
    floats = np.zeros((4, 4, 3), np.float32)
    refused(lambda: render(np.zeros((4, 4))), "shape")
    refused(lambda: render(floats[:0]), "shape")
    refused(lambda: render(floats.astype(float)), "float64")
    refused(lambda: render(floats, dtype="int8"), "int8")
    refused(lambda: render(np.zeros((4, 4, 3), np.uint8), stage="scan"), "float32")
    refused(lambda: render(floats, stage="scann"), "scann")
    refused(lambda: render(floats, frame=-1), "frame")
    refused(lambda: render(floats, seed=1_000_000), "seed")
    refused(lambda: render.table(1), "2 to 129")
    refused(lambda: render.table(-1), "2 to 129")
    refused(lambda: render(floats, frame=1.5), "", TypeError)
    refused(lambda: lw.check(np.zeros((2, 2, 2, 3)), screen_range="lgal"), "lgal")
    refused(lambda: lw.decode(floats, "logc"), "logc")
    refused(lambda: lw.check(folder / "none.json"), "")
    assert np.isfinite(render(np.full((4, 4, 3), np.nan, np.float32))).all()


def draws(lw):
    """The same seed, the same looks; they differ, keep to the limits, and make pictures that differ."""
    def some(seed):
        return [drawn for drawn, _ in zip(lw.Sampler(seed), range(20))]
    looks = some(3)
    assert looks == some(3) and looks != some(4)
    assert len({drawn.fingerprint for drawn in looks}) == 20
    seeds = [drawn["negative.grain.seed"] for drawn in looks]
    assert len(set(seeds)) == 20 and min(seeds) > 1
    ramp = np.linspace(0, 1, 64, dtype=np.float32)[None, :, None].repeat(3, -1)
    made = np.stack([lw.Renderer(drawn, source="logc3")(ramp, texture=False) for drawn in looks])
    assert np.isfinite(made).all() and made.std(0).max() > 0.02
    # No draw is far from a picture: black stays dark, and light gets lighter.
    assert made[:, 0, 0].max() < 0.35 and (made[:, 0, -1] - made[:, 0, 0]).min() > 0.3
    refused(lambda: lw.Sampler(1, spread=2), "spread")


def notebook():
    """The example's cells, one after the other; what they draw is a picture."""
    import matplotlib

    matplotlib.use("Agg")
    cells = json.loads((PACKAGE / "examples/looks.ipynb").read_text())["cells"]
    names = {}
    for cell in cells:
        if cell["cell_type"] == "code":
            exec("".join(cell["source"]), names)  # noqa: S102
    figure = names["figure"]
    figure.canvas.draw()
    drawn = np.asarray(figure.canvas.buffer_rgba())[..., :3]
    assert len(names["looks"]) == 8 and drawn.std() > 20


with tempfile.TemporaryDirectory(prefix="python-") as name:
    folder = Path(name)
    install(folder)
    import lookwright

    bytes_of_the_command_line(lookwright, folder)
    other_threads_run_meanwhile(lookwright.Renderer(lookwright.Look.new(), source="logc3"))
    numbers_of_other_libraries(lookwright, folder)
    sentences(lookwright, folder)
    draws(lookwright)
    notebook()
