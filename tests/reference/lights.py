"""The 24-patch chart in seventeen lights, as a camera balanced for 5500 K has it: scene light in AP1.

Reflectances, illuminants and observer (CIE 1931, 2 degrees) from colour-science 0.4.7, 400 to 700 nm in
steps of 10. Writes lights.json: for each light its correlated colour temperature (Ohno 2013) and Duv, and
the patches, rounded to six digits.

    python tests/reference/lights.py
"""

import json
from pathlib import Path

import colour
import numpy as np

SHAPE = colour.SpectralShape(400, 700, 10)
OBSERVER = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE).values
AP1 = colour.RGB_COLOURSPACES["ACEScg"]
NAMED = ["A", "D50", "D55", "D65", "D75", "FL2", "FL3.1", "FL7", "FL11", "LED-B1", "LED-B3", "LED-B5"]
KELVINS = [2500, 3200, 4500, 7500, 10000]


def spectrum(light):
    if isinstance(light, str):
        return colour.SDS_ILLUMINANTS[light].copy().align(SHAPE).values
    if light < 4000:
        return colour.sd_blackbody(light, SHAPE).values
    xy = colour.temperature.CCT_to_xy_CIE_D(light * 1.4388 / 1.438)
    return colour.sd_CIE_illuminant_D_series(xy).copy().align(SHAPE).values


def xyz(reflectances, light):
    return reflectances * light @ OBSERVER / (light * OBSERVER[:, 1]).sum()


white = np.ones((1, 31))
balance = colour.adaptation.matrix_chromatic_adaptation_VonKries(
    xyz(white, spectrum(5500))[0], colour.xy_to_XYZ(AP1.whitepoint), "Bradford"
)
to_ap1 = np.linalg.inv(AP1.matrix_RGB_to_XYZ) @ balance
chart = colour.SDS_COLOURCHECKERS["BabelColor Average"].values()
chart = np.array([patch.copy().align(SHAPE).values for patch in chart])

lights = []
for name in NAMED + KELVINS:
    light = spectrum(name)
    uv = colour.UCS_to_uv(colour.XYZ_to_UCS(xyz(white, light)[0]))
    kelvin, duv = colour.temperature.uv_to_CCT_Ohno2013(uv)
    patches = [[float(f"{v:.6g}") for v in patch] for patch in xyz(chart, light) @ to_ap1.T]
    lights.append({"light": str(name), "kelvin": round(float(kelvin), 1), "duv": round(float(duv), 5), "patches": patches})
Path(__file__).with_name("lights.json").write_text(json.dumps(lights, indent=None, separators=(",", ":")) + "\n")
