"""A 24-patch chart and a ladder of stops, rendered from measured reflectances: no camera was used."""

import colour
import numpy as np

SURROUND_REFLECTANCE = 0.06
LADDER_STOPS = tuple(range(-7, 9))


def patch_light(gamut: str) -> np.ndarray:
    """(24, 3) scene-linear light of the ISO 17321-1 patches under D55, adapted to the gamut's white (CAT16)."""
    shape = colour.SpectralShape(380, 780, 5)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    light = colour.SDS_ILLUMINANTS["D55"].copy().align(shape)
    space = colour.RGB_COLOURSPACES[gamut]
    white = colour.xy_to_XYZ(colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D55"])
    rows = []
    for reflectance in colour.SDS_COLOURCHECKERS["ISO 17321-1"].values():
        xyz = colour.sd_to_XYZ(reflectance.copy().align(shape), observer, light) / 100.0
        adapted = colour.adaptation.chromatic_adaptation_VonKries(
            xyz, white, colour.xy_to_XYZ(space.whitepoint), transform="CAT16"
        )
        rows.append(space.matrix_XYZ_to_RGB @ adapted)
    return np.array(rows)


def render(width: int, height: int, gamut: str) -> np.ndarray:
    """(height, width, 3) scene-linear: six by four patches over a ladder of whole stops and a smooth ramp."""
    out = np.full((height, width, 3), SURROUND_REFLECTANCE)
    gap = round(width * 0.015)
    ladder_top = round(height * 0.76)
    across, down = (width - 7 * gap) / 6, (ladder_top - 5 * gap) / 4
    for i, light in enumerate(patch_light(gamut)):
        x, y = gap + (i % 6) * (across + gap), gap + (i // 6) * (down + gap)
        out[round(y) : round(y + down), round(x) : round(x + across)] = light
    middle = round((ladder_top + height - gap) / 2)
    edges = np.linspace(gap, width - gap, len(LADDER_STOPS) + 1).round().astype(int)
    for left, right, stop in zip(edges[:-1], edges[1:], LADDER_STOPS):
        out[ladder_top:middle, left:right] = 0.18 * 2.0**stop
    ramp = np.linspace(LADDER_STOPS[0], LADDER_STOPS[-1], width - 2 * gap)
    out[middle : height - gap, gap : width - gap] = (0.18 * 2.0**ramp)[None, :, None]
    return out
