"""The developed negative on a light table, by spectral integration: prints what `crates/render/src/judge/light_table.rs`
holds and writes `../light_table.json`. Run as make.py.

Dyes and mask are *chosen* (a class of film): cyan, magenta and yellow with what is left of their unwanted bands where
masking couplers have taken most of it, and the couplers' own yellow and pink, which are the orange of the base: 0.12,
0.52, 1.00 in sRGB's channels, beside status M's published aims for a base of about 0.15, 0.51, 0.88 (from memory).
"""

import json
from pathlib import Path

import colour
import numpy as np
import spectra as sp

HERE = Path(__file__).parent
# chosen: how bright the table is, so that the base's red comes near white
TABLE_LIGHT = 1.25


def bell(peak, left, right, height=1.0):
    return height * np.exp(-0.5 * ((sp.WAVELENGTHS - peak) / np.where(sp.WAVELENGTHS < peak, left, right)) ** 2)


DYES = np.array(
    [
        bell(690, 75, 60) + bell(540, 50, 50, 0.05) + bell(435, 45, 45, 0.03),
        bell(550, 32, 34) + bell(435, 40, 45, 0.06) + bell(650, 50, 60, 0.05),
        bell(447, 38, 36) + bell(530, 40, 40, 0.03),
    ]
)
MASK = bell(440, 50, 42, 0.76) + bell(530, 45, 45, 0.38) + 0.13
TABLE = sp.aligned(colour.SDS_ILLUMINANTS["D50"])  # standard: ISO 3664's viewing light
SEEN = sp.OBSERVER * TABLE[:, None]
SEEN = SEEN / SEEN[:, 1].sum()
SRGB = colour.RGB_COLOURSPACES["sRGB"]
ADAPTED = colour.adaptation.matrix_chromatic_adaptation_VonKries(
    SEEN.sum(0), colour.xy_to_XYZ(SRGB.whitepoint), "Bradford"
)


def light(density):
    """Layers' densities above base to linear sRGB, 1 being the table itself."""
    return 10 ** -(density @ DYES + MASK) @ SEEN @ ADAPTED.T @ SRGB.matrix_XYZ_to_RGB.T


def likely(rng, count):
    return np.clip(rng.uniform(0, 1.8, (count, 1)) + rng.normal(0, 0.25, (count, 3)), 0, 2.2)


def main():
    rng = np.random.default_rng(1)
    density, base = likely(rng, 2000), light(np.zeros((1, 3)))
    seen = light(density)
    above = np.log10(base) - np.log10(np.maximum(seen, 1e-4))
    rows = []
    for channel in range(3):
        weight = np.sqrt(np.clip(seen[:, channel], 0, None)) * (seen[:, channel] > 1e-3)
        rows.append(np.linalg.lstsq(density * weight[:, None], above[:, channel] * weight, rcond=None)[0])
    print("base", (-np.log10(base[0])).round(3).tolist(), "absorption", np.array(rows).round(3).tolist())
    density = likely(rng, 60).round(3)
    code = colour.cctf_encoding(np.clip(light(density) * TABLE_LIGHT, 0, 1), function="sRGB")
    content = {
        "made_with": {"colour-science": colour.__version__, "numpy": np.__version__},
        "negatives": [{"density": d.tolist(), "srgb": c.round(5).tolist()} for d, c in zip(density, code)],
    }
    (HERE.parent / "light_table.json").write_text(json.dumps(content) + "\n")


if __name__ == "__main__":
    main()
