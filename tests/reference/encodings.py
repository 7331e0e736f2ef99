"""Writes encodings.json: reference values for encodings, spaces, whites and colour difference.

Every value comes from colour-science or OpenColorIO (versions are written into the file), from
their own data sets and functions, so that the project's constants are checked against a second
hand. Run:

    python -m venv .venv && .venv/bin/pip install -r requirements.txt
    .venv/bin/python encodings.py
"""

import json
import pathlib
import warnings

warnings.filterwarnings("ignore")  # colour-science announces optional parts that are missing.

import colour  # noqa: E402
import numpy as np  # noqa: E402
import PyOpenColorIO as ocio  # noqa: E402
from colour.models.rgb.transfer_functions.itur_bt_2020 import (  # noqa: E402
    CONSTANTS_BT2020_PRECISE as BT2020_EXACT,
)

POINTS = 200

# Codes over the whole scale; light from far below black to 10 stops above mid-grey.
CODES = np.linspace(0, 1, POINTS)
LIGHT = np.concatenate([np.linspace(-0.006, 0, 13), np.geomspace(1e-5, 180, POINTS - 13)])
LIGHT_FROM_ZERO = np.concatenate([[0.0], np.geomspace(1e-5, 4, POINTS - 1)])

EXPOSURE_INDICES = (160, 200, 250, 320, 400, 500, 640, 1000, 1280, 1600)

# Scene light, 0 ... 1 of BT.2100's systems, of a white reflector: 75 % HLG, 203 cd/m2 on a screen
# that shows PQ (BT.2408-7, table 1).
HLG_WHITE = colour.models.oetf_inverse_BT2100_HLG(0.75)
PQ_WHITE = colour.models.ootf_inverse_BT2100_PQ(203.0)

# Our curve: (code to light, light to code, whether light below zero is defined).
CURVES = {
    "logc3": (colour.models.log_decoding_ARRILogC3, colour.models.log_encoding_ARRILogC3, True),
    **{
        f"logc3-ei{index}": (
            lambda v, index=index: colour.models.log_decoding_ARRILogC3(v, EI=index),
            lambda v, index=index: colour.models.log_encoding_ARRILogC3(v, EI=index),
            True,
        )
        for index in EXPOSURE_INDICES
    },
    "logc4": (colour.models.log_decoding_ARRILogC4, colour.models.log_encoding_ARRILogC4, True),
    "slog2-sgamut": (colour.models.log_decoding_SLog2, colour.models.log_encoding_SLog2, True),
    "slog3": (colour.models.log_decoding_SLog3, colour.models.log_encoding_SLog3, True),
    "vlog": (colour.models.log_decoding_VLog, colour.models.log_encoding_VLog, True),
    "clog": (colour.models.log_decoding_CanonLog, colour.models.log_encoding_CanonLog, True),
    "clog2": (colour.models.log_decoding_CanonLog2, colour.models.log_encoding_CanonLog2, True),
    "clog3": (colour.models.log_decoding_CanonLog3, colour.models.log_encoding_CanonLog3, True),
    "flog": (colour.models.log_decoding_FLog, colour.models.log_encoding_FLog, True),
    "flog2": (colour.models.log_decoding_FLog2, colour.models.log_encoding_FLog2, True),
    "nlog": (colour.models.log_decoding_NLog, colour.models.log_encoding_NLog, True),
    "log3g10": (colour.models.log_decoding_Log3G10, colour.models.log_encoding_Log3G10, True),
    "applelog": (
        colour.models.log_decoding_AppleLogProfile,
        colour.models.log_encoding_AppleLogProfile,
        True,
    ),
    "milog": (colour.models.log_decoding_MiLog, colour.models.log_encoding_MiLog, True),
    "llog": (colour.models.log_decoding_LLog, colour.models.log_encoding_LLog, True),
    "bmdfilm5": (
        colour.models.oetf_inverse_BlackmagicFilmGeneration5,
        colour.models.oetf_BlackmagicFilmGeneration5,
        True,
    ),
    "hlg": (
        lambda v: colour.models.oetf_inverse_BT2100_HLG(v) / HLG_WHITE,
        lambda v: colour.models.oetf_BT2100_HLG(v * HLG_WHITE),
        False,
    ),
    "pq": (
        lambda v: colour.models.oetf_inverse_BT2100_PQ(v) / PQ_WHITE,
        lambda v: colour.models.oetf_BT2100_PQ(v * PQ_WHITE),
        False,
    ),
    "dlog": (colour.models.log_decoding_DJIDLog, colour.models.log_encoding_DJIDLog, True),
    "acescct": (colour.models.log_decoding_ACEScct, colour.models.log_encoding_ACEScct, True),
    "acescc": (colour.models.log_decoding_ACEScc, colour.models.log_encoding_ACEScc, True),
    "film-scan": (colour.models.log_decoding_Cineon, colour.models.log_encoding_Cineon, False),
    "srgb": (colour.models.eotf_sRGB, colour.models.eotf_inverse_sRGB, False),
    "bt1886": (colour.models.eotf_BT1886, colour.models.eotf_inverse_BT1886, False),
    "bt709-oetf": (colour.models.oetf_inverse_BT709, colour.models.oetf_BT709, False),
    "bt2020-oetf": (
        lambda v: colour.models.oetf_inverse_BT2020(v, constants=BT2020_EXACT),
        lambda v: colour.models.oetf_BT2020(v, constants=BT2020_EXACT),
        False,
    ),
}

# What colour-science does not carry. Its primaries are from memory; OpenColorIO's transform, below,
# checks them.
APPLE_WIDE_GAMUT = "Apple Wide Gamut"
colour.RGB_COLOURSPACES[APPLE_WIDE_GAMUT] = colour.RGB_Colourspace(
    APPLE_WIDE_GAMUT, [[0.725, 0.301], [0.221, 0.814], [0.068, -0.076]], [0.3127, 0.3290]
)

# The exposures of ADX: the matrix of the published transform to ACES, with the white of ACES.
ADX = "ADX"
ADX_TO_AP0 = [
    [0.72286, 0.12630, 0.15084],
    [0.11923, 0.76418, 0.11659],
    [0.01427, 0.08213, 0.90359],
]


def adx_space():
    ap0 = derived_space("ACES2065-1")
    xyz = ap0.matrix_RGB_to_XYZ @ np.array(ADX_TO_AP0)
    return colour.RGB_Colourspace(ADX, (xyz[:2] / xyz.sum(axis=0)).T, ap0.whitepoint)


# Our encoding: (colour-science's space, adaptation of the published transform to ACES).
SPACES = {
    "logc3": ("ARRI Wide Gamut 3", "CAT02"),
    **{f"logc3-ei{index}": ("ARRI Wide Gamut 3", "CAT02") for index in EXPOSURE_INDICES},
    "logc4": ("ARRI Wide Gamut 4", "CAT02"),
    "slog2-sgamut": ("S-Gamut", "CAT02"),
    "slog3-sgamut3": ("S-Gamut3", "CAT02"),
    "slog3-sgamut3cine": ("S-Gamut3.Cine", "CAT02"),
    "slog3-sgamut3-venice": ("Venice S-Gamut3", "CAT02"),
    "slog3-sgamut3cine-venice": ("Venice S-Gamut3.Cine", "CAT02"),
    "vlog": ("V-Gamut", "Bradford"),
    "clog": ("Cinema Gamut", "CAT02"),
    "clog2": ("Cinema Gamut", "CAT02"),
    "clog3": ("Cinema Gamut", "CAT02"),
    "flog": ("F-Gamut", "Bradford"),
    "flog2": ("F-Gamut", "Bradford"),
    "flog2c": ("F-Gamut C", "Bradford"),
    "nlog": ("N-Gamut", "Bradford"),
    "llog": ("ITU-R BT.2020", "Bradford"),
    "log3g10": ("REDWideGamutRGB", "Bradford"),
    "redlogfilm": ("REDWideGamutRGB", "Bradford"),
    "bmdfilm5": ("Blackmagic Wide Gamut", "Bradford"),
    "applelog": ("ITU-R BT.2020", "Bradford"),
    "applelog2": (APPLE_WIDE_GAMUT, "Bradford"),
    "milog": ("ITU-R BT.2020", "Bradford"),
    "hlg": ("ITU-R BT.2020", "Bradford"),
    "pq": ("ITU-R BT.2020", "Bradford"),
    "dlog": ("DJI D-Gamut", "CAT02"),
    "acescct": ("ACEScct", "Bradford"),
    "acescc": ("ACEScc", "Bradford"),
    "film-scan": ("ACEScg", "Bradford"),
    "adx10": (ADX, "Bradford"),
    "adx16": (ADX, "Bradford"),
    "acescg": ("ACEScg", "Bradford"),
    "ap0-linear": ("ACES2065-1", "Bradford"),
    "display-ap0": ("ACES2065-1", "Bradford"),
    "srgb-linear": ("ITU-R BT.709", "Bradford"),
    "rec2020-linear": ("ITU-R BT.2020", "Bradford"),
    "srgb": ("sRGB", "Bradford"),
    "display-p3": ("Display P3", "Bradford"),
    "rec709": ("ITU-R BT.709", "Bradford"),
    "rec2020": ("ITU-R BT.2020", "Bradford"),
}

# Our encoding: OpenColorIO's built-in transform to AP0.
BUILTINS = {
    "logc3": "ARRI_ALEXA-LOGC-EI800-AWG_to_ACES2065-1",
    "logc4": "ARRI_LOGC4_to_ACES2065-1",
    "slog3-sgamut3": "SONY_SLOG3-SGAMUT3_to_ACES2065-1",
    "slog3-sgamut3cine": "SONY_SLOG3-SGAMUT3.CINE_to_ACES2065-1",
    "slog3-sgamut3-venice": "SONY_SLOG3-SGAMUT3-VENICE_to_ACES2065-1",
    "slog3-sgamut3cine-venice": "SONY_SLOG3-SGAMUT3.CINE-VENICE_to_ACES2065-1",
    "vlog": "PANASONIC_VLOG-VGAMUT_to_ACES2065-1",
    "clog2": "CANON_CLOG2-CGAMUT_to_ACES2065-1",
    "clog3": "CANON_CLOG3-CGAMUT_to_ACES2065-1",
    "log3g10": "RED_LOG3G10-RWG_to_ACES2065-1",
    "redlogfilm": "RED_REDLOGFILM-RWG_to_ACES2065-1",
    "applelog": "APPLE_LOG_to_ACES2065-1",
    "applelog2": "APPLE_LOG-APPLEWG_to_ACES2065-1",
    "acescct": "ACEScct_to_ACES2065-1",
    "acescc": "ACEScc_to_ACES2065-1",
    "acescg": "ACEScg_to_ACES2065-1",
    "adx10": "ADX10_to_ACES2065-1",
    "adx16": "ADX16_to_ACES2065-1",
}

# Code triples: greys, single channels, both signs of every colour difference.
TRIPLES = [
    [0.6, 0.4, 0.3],
    [0.4, 0.4, 0.4],
    [0.1, 0.2, 0.3],
    [0.3, 0.6, 0.35],
    [0.35, 0.3, 0.7],
    [0.15, 0.15, 0.15],
    [0.55, 0.55, 0.2],
    [0.2, 0.5, 0.5],
    [0.8, 0.78, 0.75],
]

D65 = np.array([0.3127, 0.3290])


def rounded(values):
    """Twelve significant digits: far finer than the tolerances, and readable."""
    return [float(f"{v:.12g}") for v in np.ravel(values)]


def derived_space(name):
    """A space of colour-science with its matrices derived from the primaries (RP 177)."""
    space = colour.RGB_COLOURSPACES[name].copy()
    space.use_derived_transformation_matrices(True)
    return space


def curves():
    for name, (decode, encode, below_zero) in CURVES.items():
        light = LIGHT if below_zero else LIGHT_FROM_ZERO
        yield name, {
            "code": rounded(CODES),
            "decoded": rounded(decode(CODES)),
            "light": rounded(light),
            "encoded": rounded(encode(light)),
        }


def spaces():
    ap1 = derived_space("ACEScg")
    bt709 = derived_space("ITU-R BT.709")
    for name, (space_name, cat) in SPACES.items():
        space = derived_space(space_name)
        yield name, {
            "space": space_name,
            "cat": cat,
            "primaries": rounded(space.primaries),
            "white": rounded(space.whitepoint),
            "rgb_to_xyz": rounded(space.matrix_RGB_to_XYZ),
            "to_ap1": rounded(colour.matrix_RGB_to_RGB(space, ap1, cat)),
            "to_bt709_bradford": rounded(colour.matrix_RGB_to_RGB(space, bt709, "Bradford")),
        }


def builtins():
    config = ocio.Config.CreateRaw()
    for name, style in BUILTINS.items():
        processor = config.getProcessor(ocio.BuiltinTransform(style)).getDefaultCPUProcessor()
        # ADX16 reaches four times the density of ADX10, beyond what the library holds.
        share = 0.25 if name == "adx16" else 1
        triples = (share * np.array(TRIPLES)).tolist()
        yield name, {
            "style": style,
            "code": triples,
            "ap0": [rounded(processor.applyRGB(triple)) for triple in triples],
        }


def adaptations():
    whites = {
        "d50": [0.3457, 0.3585],
        "d55": [0.33243, 0.34744],
        "aces": [0.32168, 0.33767],
        "planck3200": [0.42336291, 0.39895299],
    }
    for cat in ("Bradford", "CAT02", "CAT16"):
        for name, xy in whites.items():
            matrix = colour.adaptation.matrix_chromatic_adaptation_VonKries(
                colour.xy_to_XYZ(D65), colour.xy_to_XYZ(xy), cat
            )
            yield {"cat": cat, "from": rounded(D65), "to": xy, "name": name, "xyz": rounded(matrix)}


def temperatures():
    for kelvin in (1600, 2000, 2856, 3200, 4000, 4500, 5500, 6504, 8000, 10000, 20000):
        for duv in (-0.015, -0.005, 0.0, 0.003, 0.01):
            uv = colour.temperature.CCT_to_uv([kelvin, duv], "Ohno 2013")
            xy = colour.UCS_uv_to_xy(uv)
            yield {"kelvin": kelvin, "duv": duv, "xy": rounded(xy)}


def measured_temperatures():
    names = ["A", "D50", "D55", "D65", "D75", "E", "FL2", "FL11"]
    lights = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]
    for name in names:
        kelvin, duv = colour.temperature.uv_to_CCT(
            colour.xy_to_UCS_uv(lights[name]), "Ohno 2013"
        )
        yield {
            "name": name,
            "xy": rounded(lights[name]),
            "kelvin": rounded([kelvin])[0],
            "duv": rounded([duv])[0],
        }


def black_bodies():
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    for kelvin in (1500, 2000, 2856, 3200, 4300, 5500, 6504, 10000, 25000):
        body = colour.sd_blackbody(kelvin, observer.shape)
        xyz = colour.sd_to_XYZ(body, observer, method="Integration")
        yield {"kelvin": kelvin, "xy": rounded(colour.XYZ_to_xy(xyz))}


def daylights():
    for kelvin in (4000, 4500, 5000, 5503, 6504, 7000, 7001, 7504, 10000, 25000):
        yield {"kelvin": kelvin, "xy": rounded(colour.temperature.CCT_to_xy_CIE_D(kelvin))}


def chart():
    checker = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
    for name, xyy in checker.data.items():
        xyz = colour.xyY_to_XYZ(xyy)
        yield {
            "name": name,
            "xyY": rounded(xyy),
            "lab": rounded(colour.XYZ_to_Lab(xyz, checker.illuminant)),
            "bt709": rounded(linear(xyz, checker.illuminant, "ITU-R BT.709")),
            "ap1": rounded(linear(xyz, checker.illuminant, "ACEScg")),
        }


def linear(xyz, white, name):
    """Linear RGB by Bradford from the white of `xyz` to that of the space."""
    return colour.XYZ_to_RGB(xyz, derived_space(name), white, "Bradford")


def differences():
    """Colours along a walk through Lab, each with its neighbour: CIEDE2000."""
    generator = np.random.default_rng(20240501)
    first = generator.uniform([0, -80, -80], [100, 80, 80], (100, 3))
    second = first + generator.normal(0, [8, 12, 12], (100, 3))
    for a, b in zip(np.round(first, 4), np.round(second, 4)):
        difference = colour.difference.delta_E_CIE2000(a, b)
        yield {"first": rounded(a), "second": rounded(b), "de2000": rounded([difference])[0]}


def main():
    colour.RGB_COLOURSPACES[ADX] = adx_space()
    checker = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
    reference = {
        "made_with": {"colour-science": colour.__version__, "opencolorio": ocio.__version__},
        "curves": dict(curves()),
        "spaces": dict(spaces()),
        "builtins": dict(builtins()),
        "adaptations": list(adaptations()),
        "black_bodies": list(black_bodies()),
        "daylights": list(daylights()),
        "temperatures": list(temperatures()),
        "measured_temperatures": list(measured_temperatures()),
        "chart_white": rounded(checker.illuminant),
        "chart": list(chart()),
        "differences": list(differences()),
    }
    lines = []
    for key, value in reference.items():
        if isinstance(value, dict) and key != "made_with":
            rows = ",\n  ".join(f"{json.dumps(k)}: {json.dumps(v)}" for k, v in value.items())
            lines.append(f"{json.dumps(key)}: {{\n  {rows}\n}}")
        elif isinstance(value, list) and key != "chart_white":
            rows = ",\n  ".join(json.dumps(v) for v in value)
            lines.append(f"{json.dumps(key)}: [\n  {rows}\n]")
        else:
            lines.append(f"{json.dumps(key)}: {json.dumps(value)}")
    text = "{\n" + ",\n".join(lines) + "\n}\n"
    json.loads(text)
    pathlib.Path(__file__).with_suffix(".json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
