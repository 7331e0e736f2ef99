"""Writes positive.json: the positive's dyes by spectral integration, and prints the closed form.

Dye spectra are chosen (see crates/film/src/path/print/positive/spectral.rs, which holds the same
numbers); the observer and D55 are colour-science's, status A's responses ANSI/ISO 5-3 as carried by
colormath 3.0.0 (status-a.csv, peak 100). Densities D of a patch are neutral densities: each dye has
the amount that it has in a grey of that visual density.

The closed form: light on the basis 0.9 rgb + 0.1 Y of Rec.2020's primaries is 10^(-D + P(D)), P of
fourteen terms, by least squares. Its terms stand in dyes.rs. Run as tables.py, with colour-science.
"""

import json
import pathlib

import colour
import numpy as np

HERE = pathlib.Path(__file__).parent
SHAPE = colour.SpectralShape(380, 730, 5)
NM = np.arange(380, 731, 5.0)


def aligned(spectrum):
    return spectrum.copy().align(SHAPE).values


OBSERVER = aligned(colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"])
D55 = aligned(colour.SDS_ILLUMINANTS["D55"])
SEEN = OBSERVER * D55[:, None]
SEEN = SEEN / SEEN[:, 1].sum()
WHITE = SEEN.sum(0)
STATUS_A = np.genfromtxt(HERE / "status-a.csv", delimiter=",", names=True)
STATUS_A = np.array([np.interp(NM, STATUS_A["nm"], STATUS_A[c], left=0, right=0) for c in "rgb"])


def bell(peak, left, right, height=1.0):
    return height * np.exp(-0.5 * ((NM - peak) / np.where(NM < peak, left, right)) ** 2)


DYES = np.array(
    [
        bell(654.4, 54.5, 60.6) + bell(540, 70, 50, 0.074) + bell(430, 45, 45, 0.097),
        bell(542.3, 28.7, 29.1) + bell(430, 40, 45, 0.135) + bell(660, 60, 60, 0.03),
        bell(456.0, 41.3, 37.5) + bell(530, 40, 40, 0.041),
    ]
)


def xyz_of_amounts(amounts):
    return 10 ** -(amounts @ DYES) @ SEEN


def neutral(density):
    amounts = np.full(3, 0.9 * density)
    for _ in range(14):
        here = -np.log10(xyz_of_amounts(amounts) / WHITE) - density
        slopes = [
            (-np.log10(xyz_of_amounts(amounts + 1e-4 * e) / WHITE) - density - here) / 1e-4
            for e in np.eye(3)
        ]
        amounts = amounts - np.linalg.solve(np.array(slopes).T, here)
    return amounts


PLACES = np.linspace(0, 5.4, 109)
AMOUNTS = np.array([neutral(d) for d in PLACES])


def amounts_of(density):
    return np.stack([np.interp(density[..., i], PLACES, AMOUNTS[:, i]) for i in range(3)], -1)


def xyz(density):
    return xyz_of_amounts(amounts_of(density))


def terms(density):
    p, q = density[..., 0] - density[..., 1], density[..., 2] - density[..., 1]
    m = density[..., 1]
    powers = [
        (a, b, c)
        for a in range(4)
        for b in range(4 - a)
        for c in range(2)
        if a + b >= 1 and a + b + c <= 3
    ]
    return np.stack([p**a * q**b * m**c for a, b, c in powers], -1)


def main():
    rng = np.random.default_rng(5)
    any_of_all = rng.uniform(0, 4.2, (5000, 3))
    likely = rng.uniform(0, 3.8, (8000, 1)) + rng.normal(0, 0.45, (8000, 3))
    density = np.concatenate([any_of_all, np.clip(likely, 0, 4.4)])
    space = colour.RGB_COLOURSPACES["ITU-R BT.2020"]
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(
        WHITE, colour.xy_to_XYZ([0.3127, 0.3290]), "Bradford"
    )
    paler = 0.9 * np.eye(3) + 0.1 * np.outer(np.ones(3), [0.2627, 0.6780, 0.0593])
    seen = xyz(density)
    light = seen @ (paler @ space.matrix_XYZ_to_RGB @ adapt).T
    wanted = np.log10(np.maximum(light, 1e-9)) + density
    weight = np.repeat([0.4, 1.0], [5000, 8000]) * (0.08 + seen[:, 1] ** 0.33)
    form = terms(density)
    fitted = np.linalg.lstsq(form * weight[:, None], wanted * weight[:, None], rcond=None)[0]
    for channel in fitted.T:
        print("    [" + ", ".join(f"{v:.6f}" for v in channel) + "],")
    patches = rng.uniform(0, 3.4, (3000, 1)) + rng.normal(0, 0.4, (3000, 3))
    patches = np.clip(patches, 0, 3.8)[:120].round(3)
    content = {
        "made_with": {"colour-science": colour.__version__, "numpy": np.__version__},
        "nm": NM.tolist(),
        "d55": D55.round(4).tolist(),
        "observer": OBSERVER.round(7).tolist(),
        "status_a": STATUS_A.round(4).tolist(),
        "patches": [
            {"density": d.tolist(), "xyz": xyz(d[None])[0].round(8).tolist()} for d in patches
        ],
    }
    (HERE / "positive.json").write_text(json.dumps(content) + "\n")


if __name__ == "__main__":
    main()
