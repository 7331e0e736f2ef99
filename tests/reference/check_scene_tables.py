"""Tables that give scene code, in a colour-managed pipeline of somebody else's: OpenColorIO's.

- one look as ACEScct, LogC3, ACEScg and ACES2065-1 is the same light, as OpenColorIO's built-in
  transforms read these codes;
- with the tone scale of ACES 2.0 undone, OpenColorIO's built-in output transform for screens of 100
  nits shows a black-and-white look as its own table for Rec.709 does, and looks of colour nearly:
  that transform also draws colours in, which a tone scale does not undo.

Needs LOOKWRIGHT (the native command line).
"""

import os
import pathlib
import subprocess
import sys
import tempfile
import warnings

warnings.filterwarnings("ignore")  # colour-science announces optional parts that are missing.

import colour  # noqa: E402
import numpy as np  # noqa: E402
import PyOpenColorIO as ocio  # noqa: E402

LOOKWRIGHT = os.environ["LOOKWRIGHT"]
LOOKS = pathlib.Path(__file__).parents[2] / "web/looks"
TO_ACES = {
    "acescct": "ACEScct_to_ACES2065-1",
    "logc3": "ARRI_ALEXA-LOGC-EI800-AWG_to_ACES2065-1",
    "acescg": "ACEScg_to_ACES2065-1",
    "ap0-linear": None,
}
OUTPUT = "ACES-OUTPUT - ACES2065-1_to_CIE-XYZ-D65 - SDR-100nit-REC709_2.0"
D65 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
# Two tables of one look, each with its own errors.
SAME_LIGHT = 0.02
# Mean and largest CIEDE2000 over the chart from 2 stops under to 2 over, as measured: of colour 4.6
# and 16.7, of black-and-white 0.11 and 1.3.
SHOWN = {"storm-warning": (0.15, 1.5), "regatta": (5.0, 18.0), "matinee": (3.0, 11.0)}

failures = []


def check(passed, sentence):
    print(("  ok   " if passed else "  FAIL ") + sentence)
    if not passed:
        failures.append(sentence)


def chart():
    """The 24 patches, lit from 2 stops under to 2 over, in LogC3."""
    patches = colour.CCS_COLOURCHECKERS["BabelColor Average"]
    xyz = np.array([colour.xyY_to_XYZ(xyy) for xyy in patches.data.values()])
    camera = colour.RGB_COLOURSPACES["ARRI Wide Gamut 3"]
    light = colour.XYZ_to_RGB(xyz, camera, patches.illuminant, "Bradford")
    lit = np.concatenate([light * 2.0**stops for stops in range(-2, 3)])
    return colour.models.log_encoding_ARRILogC3(lit)


def through(rgb, *transforms):
    group = ocio.GroupTransform()
    for transform in transforms:
        group.appendTransform(transform)
    cpu = ocio.Config.CreateRaw().getProcessor(group).getOptimizedCPUProcessor(ocio.OPTIMIZATION_NONE)
    pixels = np.ascontiguousarray(rgb, np.float32).copy()
    cpu.applyRGB(pixels)
    return pixels.astype(float)


def table(folder, look, *options):
    path = folder / ("-".join([look, *options]).replace("--", "") + ".clf")
    command = [LOOKWRIGHT, "table", LOOKS / f"{look}.json", "--from", "logc3", "-o", path, *options]
    done = subprocess.run(command, capture_output=True, check=False)
    if done.returncode != 0:
        sys.exit(done.stderr.decode(errors="replace"))
    return ocio.FileTransform(str(path))


def aces(folder, look, encoding, rendering, rgb):
    """What a table gives, as light of ACES2065-1."""
    steps = [table(folder, look, "--scene", encoding, "--undo", rendering)]
    if TO_ACES[encoding]:
        steps.append(ocio.BuiltinTransform(TO_ACES[encoding]))
    return through(rgb, *steps)


def lab(xyz):
    return colour.XYZ_to_Lab(np.clip(xyz, 0, None), D65)


def main():
    rgb = chart()
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        light = {encoding: aces(folder, "regatta", encoding, "plain", rgb) for encoding in TO_ACES}
        for encoding, found in light.items():
            wanted = light["acescct"]
            far = np.max(np.abs(found - wanted) / (np.abs(wanted).max(axis=1, keepdims=True) + 0.01))
            check(far < SAME_LIGHT, f"regatta as {encoding}: within {far:.1e} of the light of acescct")
        for look, (mean, largest) in SHOWN.items():
            code = np.clip(through(rgb, table(folder, look)), 0, 1)
            direct = lab(code**2.4 @ colour.RGB_COLOURSPACES["sRGB"].matrix_RGB_to_XYZ.T)
            scene = aces(folder, look, "acescct", "aces", rgb)
            shown = lab(through(scene, ocio.BuiltinTransform(OUTPUT)))
            far = colour.delta_E(direct, shown, method="CIE 2000")
            sentence = f"{look} through ACES 2.0: CIEDE2000 {far.mean():.2f} on average, {far.max():.1f} at most"
            check(far.mean() < mean and far.max() < largest, sentence)
    if failures:
        sys.exit(f"{len(failures)} checks failed")


if __name__ == "__main__":
    main()
