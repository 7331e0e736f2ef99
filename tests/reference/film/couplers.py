"""Fits the positive's couplers, which stand in `crates/film/src/path/print/positive/mod.rs`, and prints them.

The 24 patches through the three colour starting points' negatives, each in its own light, and the three classes of
print, at -1, 0 and +1 stops: hues as a frame without a look has them (OKLab; skins count most), chroma a little above
it. Dyes by spectral integration (`../positive.py`). Run as make.py.
"""

import re
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
import colour
import finish as fi
import numpy as np
import positive
import spectra as sp
from scipy.optimize import least_squares

CRATE = Path(__file__).parents[3] / "crates/film/src/path"
# chosen, as in print/positive/mod.rs: times gamma, toe, shoulder, separation
CLASSES = {"soft": (0.93, 0.62, 0.35, -0.08), "normal": (1.0, 0.7, 0.75, 0.0), "rich": (1.125, 0.75, 0.8, 0.08)}
GAMMA, DMAX, AIM_CODE, AIM_DENSITY = 3.2, 3.6, 445.0, 1.0
STOPS = np.array([-1.0, 0.0, 1.0])
# chosen: how much patches count by exposure, skins beside them, and chroma over the source's
PATCHES_COUNT, SKINS_COUNT, CHROMA = np.array([0.5, 1.0, 0.7]) / 3, np.array([0.6, 1.0, 0.8]) * 4 / 3, 1.25


def curve(u, toe, shoulder):
    span = DMAX - shoulder**2 / (4 * DMAX)
    shouldered = lambda t: span - ((span - t) + np.hypot(span - t, shoulder)) / 2
    return shouldered((u + np.hypot(u, toe)) / 2) - shouldered(0.0)


def printed(codes, couplers, name):
    """Codes of printing density to linear BT.709 of the print, relative to its white."""
    gamma, toe, shoulder, apart = CLASSES[name]
    places = np.linspace(-1, 4, 5001)
    aim = np.interp(AIM_DENSITY, curve(places, toe, shoulder), places)
    layers = couplers + apart * (np.eye(3) - 1 / 3)
    density = curve(aim - GAMMA * gamma * (codes - AIM_CODE) * 0.002 @ layers.T, toe, shoulder)
    return positive.xyz(density) @ TO_709.T


def dyes():
    text = re.search(r"pub const DYES.*?= (\[.*?\]);", (CRATE / "negative/fitted.rs").read_text(), re.S).group(1)
    return np.reshape([float(v) for v in re.findall(r"-?[\d.]+", text)], (3, 3))


ADAPTED = colour.adaptation.matrix_chromatic_adaptation_VonKries(
    positive.WHITE, fi.RGB709.matrix_RGB_to_XYZ.sum(1), "Bradford"
)
TO_709 = fi.RGB709.matrix_XYZ_to_RGB @ ADAPTED


def main():
    shown = []
    for balance, iso in (("lamp", 500.0), ("day", 320.0), ("day", 40.0)):
        light = sp.light(balance)
        exposure = sp.CHART @ sp.colour_layers(balance, sp.share_of_speed(iso), light).T
        codes = fi.Film(balance, iso).codes(exposure * 2 ** STOPS[:, None, None], dyes())
        source = fi.oklab(sp.CHART @ sp.to_ap1(light) @ fi.AP1_TO_709.T)
        shown += [(name, codes, source) for name in CLASSES]

    def off(v):
        out = []
        for name, codes, (lightness0, chroma0, hue0) in shown:
            lightness, chroma, hue = fi.oklab(printed(codes, fi.rows(v), name))
            d = fi.turn(hue, hue0)[:, :18]
            vivid = (chroma[1] / lightness[1]) / (chroma0 / lightness0) - CHROMA
            out += [(d * PATCHES_COUNT[:, None]).ravel(), (d[:, :2] * SKINS_COUNT[:, None]).ravel(), vivid[:18] * 4]
        return np.concatenate(out)

    couplers = fi.rows(least_squares(off, np.array([-0.2, 0.2, -0.2, 0.0, 0.2, -0.1])).x)
    print("couplers", couplers.round(3).tolist())
    for name, codes, (_, _, hue0) in shown:
        d = fi.turn(fi.oklab(printed(codes, couplers, name))[2], hue0)
        print(name, "skins", d[:, :2].round(1).tolist(), "all", np.abs(d[1, :18]).max().round(1))


if __name__ == "__main__":
    main()
