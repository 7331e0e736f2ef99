"""Spectra of the film model: lights, reflectances, layer sensitivities.

Every number here is *chosen* (a class of film, not a product) unless its line says *standard* or *measured*.
"""

import colour
import numpy as np
from colour.quality.cfi2017 import load_TCS_CIE2017

WAVELENGTHS = np.arange(380, 731, 5.0)
SHAPE = colour.SpectralShape(380, 730, 5)


def aligned(spectrum):
    """A copy on this module's wavelengths."""
    return spectrum.copy().align(SHAPE).values


# standard: CIE 1931 2 degree observer, CIE D55, ISO 7589 studio tungsten
OBSERVER = aligned(colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"])
LIGHTS = {"day": "D55", "lamp": "ISO 7589 Studio Tungsten", "panchromatic": "D55", "orthochromatic": "D55"}
AP1 = colour.RGB_COLOURSPACES["ACEScg"]
# measured: 24 patches (BabelColor's average of 30 charts), 99 reflectances (CIE 224:2017)
CHART = np.array([aligned(s) for s in colour.SDS_COLOURCHECKERS["BabelColor Average"].values()])
PATCHES = list(colour.SDS_COLOURCHECKERS["BabelColor Average"].keys())
MEASURED = load_TCS_CIE2017(colour.SpectralShape(380, 780, 5)).values.T[:, :71]

FWHM = 2.3548
LED_NM = np.arange(440, 662, 5.0)

# Layers of colour film at ISO 250: peak, then the fall of one decade to the left and right, in nm.
LAYERS = {"R": (626.0, 62.0, 39.0), "G": (542.0, 36.0, 38.0), "B": (450.0, 56.0, 30.0)}
# What a lamp-balanced film has more of: its layers are a little wider, its red deeper.
LAMP = {"R": (3.0, 3.0, 1.0), "G": (0.0, 2.0, 0.0), "B": (-5.0, 1.0, 13.0)}
# Share of its neighbours' light that each layer sees (rows R, G, B): no filter layer is perfect.
LEAK = np.array([[1.0, 0.0, 2.1e-3], [1.8e-2, 1.0, 2.0e-3], [1.0e-3, 1.0e-3, 1.0]])
# Finer film has narrower layers and a deeper red: shares of the widths, and nm, over the range of speeds.
NARROWER, DEEPER_RED = 0.14, 5.0

SPEED_MIN, SPEED_MAX, SPEED_MIDDLE = 25.0, 1600.0, 250.0
# One-emulsion film sees from the violet to its dye's edge: nm, each edge's decade in nm.
ONE_EMULSION = {"panchromatic": (392.0, 648.0), "orthochromatic": (392.0, 578.0)}
EDGE_NM = 14.0
# Contrast filters pass a band, nm; the open ends lie outside the range.
FILTERS = {"none": (300.0, 900.0), "light-red": (592.0, 900.0), "yellow": (492.0, 900.0), "green": (486.0, 598.0)}
FILTER_EDGE_NM = 16.0


def share_of_speed(iso):
    """0 at ISO 25, 1 at ISO 1600, equal steps a stop."""
    return np.log2(iso / SPEED_MIN) / np.log2(SPEED_MAX / SPEED_MIN)


def light(balance):
    return aligned(colour.SDS_ILLUMINANTS[LIGHTS[balance]])


def to_ap1(illuminant):
    """Reflectance to AP1 as a camera balanced for the light gives it: (71, 3)."""
    weighted = OBSERVER * illuminant[:, None]
    white = weighted.sum(0)
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(
        white / white[1], colour.xy_to_XYZ(AP1.whitepoint), "Bradford"
    )
    return weighted / white[1] @ (AP1.matrix_XYZ_to_RGB @ adapt).T


def bump(centre, sigma):
    return np.exp(-0.5 * ((WAVELENGTHS - centre) / sigma) ** 2)


def bell(peak, left, right):
    """Sensitivity: in log10 a parabola at the peak and a straight fall on either side."""
    t = (WAVELENGTHS - peak) / np.where(WAVELENGTHS < peak, left, right)
    return 10 ** -((np.sqrt(1 + (2.2 * t) ** 2) - 1) / (np.sqrt(1 + 2.2**2) - 1))


def band(low, high, edge):
    """1 inside, falling one decade an edge outside."""
    up = 1 / (1 + 10 ** ((low - WAVELENGTHS) / edge))
    return up / (1 + 10 ** ((WAVELENGTHS - high) / edge))


def colour_layers(balance, share, illuminant):
    """Weights of R, G, B layers over reflectance, each summing to 1: (3, 71)."""
    off = share - share_of_speed(SPEED_MIDDLE)
    layers = []
    for name in "RGB":
        more = LAMP[name] if balance == "lamp" else (0.0, 0.0, 0.0)
        peak, left, right = np.add(LAYERS[name], more)
        width = 1 + NARROWER * off
        layers.append(bell(peak - (DEEPER_RED * off if name == "R" else 0.0), left * width, right * width))
    weights = np.array(layers) * illuminant
    weights = LEAK @ (weights / weights.sum(1, keepdims=True))
    return weights / weights.sum(1, keepdims=True)


def one_emulsion(balance, contrast_filter, illuminant):
    """Weight of a single emulsion behind a filter: (1, 71)."""
    weights = band(*ONE_EMULSION[balance], EDGE_NM) * band(*FILTERS[contrast_filter], FILTER_EDGE_NM) * illuminant
    return (weights / weights.sum())[None]


def leds(illuminant):
    """Narrow bands (20 nm wide) as reflectances under a light, brightest AP1 channel 1."""
    lines = np.array([bump(c, 20 / FWHM) for c in LED_NM]) / illuminant
    return lines / np.abs(lines @ to_ap1(illuminant)).max(1, keepdims=True)
