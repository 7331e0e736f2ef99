"""Colours of measured lamps, as a camera balanced between lamplight and dusk would record them."""

import colour
import numpy as np

# The night frame's camera balance; a lamp warmer than this records warm.
BALANCE_K = 4300.0

_MEASURED = {
    "sodium": "C100S54 (HPS)",  # high-pressure sodium, 100 W
    "sodium_low": "LPS",
    "mercury": "H38HT-100 (Mercury)",
    "incandescent": "60 A/W (Soft White)",
}


def lamp_rgb(name: str, gamut: str) -> np.ndarray:
    """(3,) linear light of a measured lamp in a gamut (colour-science name), luminance 1, nothing below zero."""
    spectrum = colour.SDS_LIGHT_SOURCES[_MEASURED[name]].copy().align(colour.SpectralShape(360, 780, 1))
    xyz = colour.sd_to_XYZ(spectrum, colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"])
    space = colour.RGB_COLOURSPACES[gamut]
    adapted = colour.adaptation.chromatic_adaptation_VonKries(
        xyz / xyz[1],
        colour.xy_to_XYZ(colour.temperature.CCT_to_xy_Kang2002(BALANCE_K)),
        colour.xy_to_XYZ(space.whitepoint),
        transform="CAT16",
    )
    return np.maximum(space.matrix_XYZ_to_RGB @ adapted, 0.0)


def stops(above_grey: float) -> float:
    """Scene-linear luminance of a level in stops from mid-grey."""
    return 0.18 * 2.0**above_grey
