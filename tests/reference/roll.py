"""Writes roll.json: colours that screens can't show, and the hue that CAM16 says they have.

For each screen: the edges of wider gamuts, pure and paler, and narrow bands of 20 nm (full width at
half height) from 450 to 650 nm, pure and mixed with white. Light is told in the screen's own linear
RGB, the brightest channel 1 (or -1), and looked at with that channel at 0.25, 0.75 and 2.5 of white. CAM16:
white 100 cd/m2 relative, adapting luminance 20, background 20, dim surround (colour-science). Run as
tables.py, with colour-science.
"""

import json
import pathlib

import colour
import numpy as np

SPACES = {
    "rec709": "ITU-R BT.709",
    "display-p3": "Display P3",
    "rec2020": "ITU-R BT.2020",
}
WIDER = {"rec709": ("Display P3", "ITU-R BT.2020"), "display-p3": ("ITU-R BT.2020",), "rec2020": ()}
WHITE = colour.xy_to_XYZ([0.3127, 0.3290])
LEVELS = (0.25, 0.75, 2.5)


def edges(steps=36):
    out = []
    for place in np.linspace(0, 6, steps, endpoint=False):
        side, f = int(place), place % 1
        out.append(
            [[1, f, 0], [1 - f, 1, 0], [0, 1, f], [0, 1 - f, 1], [f, 0, 1], [1, 0, 1 - f]][side]
        )
    return np.array(out, float)


def bands():
    nm = np.arange(380, 731, 5.0)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy()
    observer = observer.align(colour.SpectralShape(380, 730, 5)).values
    xyz = np.array(
        [np.exp(-0.5 * ((nm - c) / 8.5) ** 2) @ observer for c in np.arange(450, 651, 10.0)]
    )
    return xyz / xyz.sum(1, keepdims=True)


def colours(screen):
    to_rgb = np.linalg.inv(colour.RGB_COLOURSPACES[SPACES[screen]].matrix_RGB_to_XYZ)
    found = []
    for wider in WIDER[screen]:
        for purity in (1, 0.85):
            rgb = edges()
            rgb = rgb * purity + (1 - purity) * rgb.mean(1, keepdims=True)
            found.append(rgb @ (to_rgb @ colour.RGB_COLOURSPACES[wider].matrix_RGB_to_XYZ).T)
    for white in (0.0, 0.08, 0.2):
        found.append((bands() * (1 - white) + white * WHITE / WHITE.sum()) @ to_rgb.T)
    found = np.concatenate(found)
    return (found / np.abs(found).max(1, keepdims=True)).round(6)


def hue(rgb, screen):
    xyz = rgb @ colour.RGB_COLOURSPACES[SPACES[screen]].matrix_RGB_to_XYZ.T
    dim = colour.VIEWING_CONDITIONS_CAM16["Dim"]
    return colour.XYZ_to_CAM16(xyz * 100, WHITE * 100, 20, 20, dim).h


def main():
    content = {"made_with": {"colour-science": colour.__version__, "numpy": np.__version__}}
    content["levels"] = LEVELS
    for screen in SPACES:
        rgb = colours(screen)
        hues = np.stack([hue(rgb * level, screen) for level in LEVELS], 1)
        content[screen] = [
            {"rgb": c.tolist(), "hue": h.round(4).tolist()} for c, h in zip(rgb, hues)
        ]
    path = pathlib.Path(__file__).parent / "roll.json"
    path.write_text(json.dumps(content) + "\n")


if __name__ == "__main__":
    main()
