"""Fits the film model and writes what the core and the tests read:

    crates/film/src/path/negative/fitted.rs   coefficients
    tests/reference/film.json                 values from direct spectral integration and from OpenColorIO

Run: `python tests/reference/film/make.py` in an environment of tests/reference/requirements.txt. The random searches
that chose the sensitivities (spectra.py) and the basis (exposure.py) are not repeated; their results stand there.
"""

import json
import warnings
from pathlib import Path

warnings.filterwarnings("ignore")
import colour
import exposure as ex
import finish as fi
import numpy as np
import PyOpenColorIO as ocio
import spectra as sp
from scipy.optimize import least_squares

ROOT = Path(__file__).parents[3]
STOPS = np.array([-3.0, -2.0, -1.0, 0.0, 1.0])
# chosen: the films whose colours the straight finish's 3x3 is fitted to, their chroma over the source's, and how much
# the hues of the patches count: vivid film turns sky and cyan most
DISPLAY_SPEEDS, DISPLAY_CHROMA = (320.0, 40.0), 1.2
DISPLAY_HUES = np.array([{"blue sky": 1.26, "cyan": 1.6}.get(name, 1.0) for name in sp.PATCHES[:18]])


def adx10(ap0):
    """ADX10 codes (standard: ST 2065-2 film) of AP0 light, through OpenColorIO's built-in, by inversion."""
    built_in = ocio.BuiltinTransform("ADX10_to_ACES2065-1")
    to_light = ocio.Config.CreateRaw().getProcessor(built_in).getDefaultCPUProcessor()
    log = lambda v: np.log2(np.maximum(v, 1e-5))
    return np.array(
        [
            least_squares(
                lambda c: log(to_light.applyRGB(list(c / 1023))) - log(v),
                np.full(3, 445.0),
                bounds=(60, 1020),
                diff_step=3e-3,
                x_scale=100.0,
            ).x
            for v in ap0
        ]
    )


def fit_printing(exposure, codes):
    """The reference film's layer densities to printing densities, so that its chart has ADX10's differences."""
    d, t = fi.Film().density(exposure), (codes - 95) * 0.002
    apart = lambda q: np.c_[q[:, 0] - q[:, 1], q[:, 2] - q[:, 1]]

    def off(v):
        q = d @ fi.rows(v).T
        return np.r_[(apart(q) - apart(t))[:18].ravel(), (q[:, 1] - t[:, 1])[:18] * 0.3, 0.02 * v]

    return fi.rows(least_squares(off, np.zeros(6)).x)


def fit_display(printing, dyes):
    """The straight finish's 3x3: hues of the chart from -3 to +1 stops on two daylight films, the middling and the
    vivid starting point's, chroma on average above the source's."""
    day = sp.light("day")
    unmix, shown = np.linalg.inv(printing), []
    for iso in DISPLAY_SPEEDS:
        film = fi.Film("day", iso)
        exposure = sp.CHART @ sp.colour_layers("day", sp.share_of_speed(iso), day).T
        shown.append((fi.Straight(film), film.codes(exposure * 2 ** STOPS[:, None, None], dyes)))
    lightness0, chroma0, hue0 = fi.oklab(sp.CHART @ sp.to_ap1(day) @ fi.AP1_TO_709.T)

    def off(v):
        out = []
        for straight, codes in shown:
            lightness, chroma, hue = fi.oklab(fi.light_of(straight.show(codes, unmix, fi.rows(v))))
            d = fi.turn(hue, hue0)
            vivid = (chroma[3] / lightness[3] - DISPLAY_CHROMA * chroma0 / lightness0)[:18] * 60
            out += [(d[:, :18] * DISPLAY_HUES).ravel() / 3, d[:, :2].ravel() / 1.5, vivid]
        return np.r_[(*out, 0.5 * v)]

    return fi.rows(least_squares(off, np.array([-0.3, 0, -0.1, -0.1, 0, -0.1])).x)


def spectrum_at(kelvin):
    """Daylight from 5000 K up, a Planck radiator up to 4000 K, mixed between (as the core's white points are)."""
    shape = sp.SHAPE
    planck = colour.sd_blackbody(kelvin, shape).values
    planck = planck / planck[36]
    if kelvin <= 4000:
        return planck
    xy = colour.temperature.CCT_to_xy_CIE_D(kelvin * 1.4388 / 1.4380)
    day = colour.sd_CIE_illuminant_D_series(xy, shape=shape).values if kelvin > 4000 else planck
    day = day / day[36]
    t = np.clip((kelvin - 4000) / 1000, 0, 1)
    return planck + (day - planck) * t


def fit_cast(balance, layers, own):
    """log2 gain of red and blue over green by hundreds of mired from the balance: two cubics without constant.

    Lamp film's own light is ISO 7589's studio tungsten, which is called 3200 K and is a little warmer: the scale of
    mired is stretched from daylight so that the name is the light."""
    kelvins = np.array([2500, 2700, 2856, 3000, 3200, 3400, 3700, 4000, 4500, 5000, 5500, 6000, 6500, 7500, 8500, 10000.0])
    named = own_kelvin(balance)
    stretch = 1.0
    if balance == "lamp":
        true = colour.xy_to_CCT(colour.XYZ_to_xy(own @ sp.OBSERVER), method="Kang 2002")
        stretch = (1e6 / true - 1e6 / 5500) / (1e6 / named - 1e6 / 5500)
        print("lamp film's own light, K", true)
    lit = lambda k: (layers / own) @ spectrum_at(1e6 / (1e6 / 5500 + (1e6 / k - 1e6 / 5500) * stretch))
    seen, at_own = np.log2([lit(k) for k in kelvins]), np.log2(lit(named))
    m = (1e6 / kelvins - 1e6 / named) / 100
    x = np.stack([m, m**2, m**3], 1)
    y = np.stack([seen[:, 0] - seen[:, 1] - (at_own[0] - at_own[1]), seen[:, 2] - seen[:, 1] - (at_own[2] - at_own[1])], 1)
    fit = np.linalg.lstsq(x, y, rcond=None)[0]
    at_5500 = y[list(kelvins).index(5500.0)]
    print(f"cast {balance}: residual stops {np.abs(x @ fit - y).max():.3f}, blue over red at 5500 K {at_5500[1] - at_5500[0]:.3f}")
    return fit.T


def own_kelvin(balance):
    return 3200.0 if balance == "lamp" else 5500.0


def number(value):
    text = f"{value:.9f}".rstrip("0")
    return text + "0" if text.endswith(".") else text


def rust_array(values, indent):
    pad = " " * indent
    if np.ndim(values) == 1:
        return "[" + ", ".join(number(v) for v in values) + "]"
    inner = f",\n{pad}    ".join(rust_array(v, indent + 4) for v in values)
    return f"[\n{pad}    {inner},\n{pad}]"


def main():
    training = {b: ex.Training(sp.light(b)) for b in ("day", "lamp")}
    sets, report = {}, []
    for balance in ("day", "lamp"):
        ends = [training[balance].fit(sp.colour_layers(balance, s, sp.light(balance))) for s in (0.0, 1.0)]
        sets[balance] = np.array([e.T for e in ends])  # (fine/fast, layer, term)
    single = {
        (b, f): training["day"].fit(sp.one_emulsion(b, f, sp.light(b))).T[0] for b in sp.ONE_EMULSION for f in sp.FILTERS
    }

    # The reference film: day, ISO 250.
    middle = sp.share_of_speed(sp.SPEED_MIDDLE)
    day = sp.light("day")
    reference = sp.colour_layers("day", middle, day)
    to_ap1 = sp.to_ap1(day)
    ap0 = sp.CHART @ to_ap1 @ colour.matrix_RGB_to_RGB("ACEScg", "ACES2065-1").T
    adx = adx10(ap0)
    printing = fit_printing(sp.CHART @ reference.T, adx)
    dyes = printing @ np.linalg.inv(np.eye(3) + fi.SEPARATION_MIDDLE * fi.SEPARATION)
    display = fit_display(printing, dyes)
    casts = {b: fit_cast(b, sp.colour_layers(b, middle, sp.light(b)), sp.light(b)) for b in ("day", "lamp")}

    basis = ex.BASIS / ex.BASIS.sum(1, keepdims=True)
    out = [
        "//! Coefficients of the film model. Made by `tests/reference/film/make.py`; don't edit.",
        "",
        "/// AP1 to the three forms that the polynomials are written in; rows sum to 1.",
        f"pub const BASIS: [[f64; 3]; 3] = {rust_array(basis, 0)};",
        "",
        "/// Floors of the forms.",
        f"pub const FLOORS: [f64; 3] = {rust_array(ex.FLOORS, 0)};",
        "",
        "/// Number of terms of a polynomial of degree 6 in two variables without constant.",
        f"pub const TERMS: usize = {len(ex.POWERS)};",
        "",
        "/// Terms of a layer's polynomial: `a^i b^j`, `i` rising, then `j`.",
        "pub type Polynomial = [f64; TERMS];",
    ]
    for balance, words in (("day", "daylight"), ("lamp", "lamps")):
        out += [
            "",
            f"/// Film balanced for {words}: at ISO 25 and at ISO 1600, red, green and blue layer.",
            f"pub const {balance.upper()}: [[Polynomial; 3]; 2] = {rust_array(sets[balance], 0)};",
        ]
    for name in sp.ONE_EMULSION:
        out += [
            "",
            f"/// {name.capitalize()} film behind no filter, light red, yellow, green.",
            f"pub const {name.upper()}: [Polynomial; 4] = {rust_array(np.array([single[name, f] for f in sp.FILTERS]), 0)};",
        ]
    out += [
        "",
        "/// log2 gain of the red and the blue layer over the green one by hundreds of mired from the balance:",
        "/// first, second and third power; daylight film, lamp film.",
        f"pub const CASTS: [[[f64; 3]; 2]; 2] = {rust_array(np.array([casts['day'], casts['lamp']]), 0)};",
        "",
        "/// Layers' dyes to printing density: what each dye absorbs beside its own. Rows sum to 1.",
        f"pub const DYES: [[f64; 3]; 3] = {rust_array(dyes, 0)};",
        "",
        "/// [`DYES`] after the reference film's couplers: its layers' densities to printing density.",
        f"pub const PRINTING: [[f64; 3]; 3] = {rust_array(printing, 0)};",
        "",
        "/// The straight finish's colours: shaped layers to display code; rows sum to 1.",
        f"pub const DISPLAY: [[f64; 3]; 3] = {rust_array(display, 0)};",
        "",
    ]
    (ROOT / "crates/film/src/path/negative/fitted.rs").write_text("\n".join(out))

    values = {
        "made_with": {
            "colour-science": colour.__version__,
            "opencolorio": ocio.__version__,
            "numpy": np.__version__,
            "script": "tests/reference/film/make.py",
        },
        "patches": sp.PATCHES,
        "adx10": adx.round(2).tolist(),
        "sets": [],
    }
    for balance, iso in (("day", 25), ("day", 50), ("day", 250), ("day", 1600), ("lamp", 200), ("lamp", 500), ("lamp", 1600)):
        ill = sp.light(balance)
        layers, a = sp.colour_layers(balance, sp.share_of_speed(iso), ill), sp.to_ap1(ill)
        leds = sp.leds(ill)
        s = sp.share_of_speed(iso)
        coefficients = (sets[balance][0] * (1 - s) + sets[balance][1] * s).T
        off = np.log2(ex.closed(sp.CHART @ a, coefficients)) - np.log2(sp.CHART @ layers.T)
        led = np.log2(ex.closed(leds @ a, coefficients)) - np.log2(leds @ layers.T)
        k = list(sp.LED_NM).index
        print(
            balance, iso, "chart rms", np.sqrt((off**2).mean(0)).round(3), "LED rms", np.sqrt((led**2).mean(0)).round(2),
            "590", led[k(590)].round(2), "455 red", np.log2(leds @ layers.T)[k(455), 0].round(2),
        )
        values["sets"].append(
            {
                "balance": balance,
                "speed": iso,
                "chart_ap1": (sp.CHART @ a).round(6).tolist(),
                "chart_exposure": (sp.CHART @ layers.T).round(6).tolist(),
                "led_nm": sp.LED_NM.tolist(),
                "led_ap1": (leds @ a).round(6).tolist(),
                "led_exposure": [[float(f"{v:.6g}") for v in row] for row in leds @ layers.T],
            }
        )
    # ISO 7589: tungsten film in photographic daylight (standard lights).
    lamp = sp.colour_layers("lamp", sp.share_of_speed(500), sp.light("lamp")) / sp.light("lamp")
    seen = lamp @ sp.aligned(colour.SDS_ILLUMINANTS["ISO 7589 Photographic Daylight"])
    values["iso_7589_blue_over_red_stops"] = round(float(np.log2(seen[2] / seen[0])), 4)
    sodium = sp.aligned(colour.SDS_ILLUMINANTS["HP1"])[None] / day
    values["high_pressure_sodium"] = {
        "ap1": (sodium @ to_ap1)[0].round(6).tolist(),
        "exposure": (sodium @ reference.T)[0].round(6).tolist(),
    }
    print("cast", values["iso_7589_blue_over_red_stops"], "sodium", np.log2(ex.closed(sodium @ to_ap1, (sets["day"][0] * (1 - middle) + sets["day"][1] * middle).T)) - np.log2(sodium @ reference.T))
    print("printing", printing.round(3).tolist(), "dyes", dyes.round(3).tolist(), "display", display.round(3).tolist())
    values["one_emulsion"] = [
        {"balance": b, "filter": f, "chart_exposure": (sp.CHART @ sp.one_emulsion(b, f, day).T)[:, 0].round(6).tolist()}
        for b in sp.ONE_EMULSION for f in sp.FILTERS
    ]
    for entry in values["one_emulsion"]:
        c = single[entry["balance"], entry["filter"]][:, None]
        off = np.log2(ex.closed(sp.CHART @ to_ap1, c))[:, 0] - np.log2(entry["chart_exposure"])
        print(entry["balance"], entry["filter"], "rms", np.sqrt((off**2).mean()).round(3), np.abs(off).max().round(2))
    (ROOT / "tests/reference/film.json").write_text(json.dumps(values, separators=(",", ":")) + "\n")


if __name__ == "__main__":
    main()
