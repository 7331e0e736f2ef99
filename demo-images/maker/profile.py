"""A minimal ICC profile for Display P3, written here so that no vendor's profile has to be passed on."""

import struct

import colour
import numpy as np


def _fixed(value: float) -> bytes:
    return struct.pack(">i", round(value * 65536))


def _text(kind: str) -> bytes:
    body = kind.encode("utf-16-be")
    return b"mluc" + bytes(4) + struct.pack(">II2s2sII", 1, 12, b"en", b"US", len(body), 28) + body


def display_p3_icc() -> bytes:
    """An ICC version 4.3 matrix profile (ICC.1:2010): P3 primaries, D65 white, the sRGB curve."""
    space = colour.RGB_COLOURSPACES["Display P3"]
    d50 = np.array([0.9642, 1.0, 0.8249])  # the profile connection space's white, ICC.1:2010
    white = colour.xy_to_XYZ(space.whitepoint)
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(white, d50, transform="Bradford")
    columns = (adapt @ space.matrix_RGB_to_XYZ).T

    def xyz(values) -> bytes:
        return b"XYZ " + bytes(4) + b"".join(_fixed(v) for v in values)

    # Type 3: Y = (a X + b)^g at and above d, else c X, in the order g a b c d.
    curve = b"para" + bytes(4) + struct.pack(">HH", 3, 0)
    curve += b"".join(_fixed(v) for v in (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045))
    tags = [
        (b"desc", _text("P3 primaries, D65, sRGB curve")),
        (b"cprt", _text("CC0")),
        (b"wtpt", xyz(d50)),
        (b"chad", b"sf32" + bytes(4) + b"".join(_fixed(v) for v in adapt.ravel())),
        (b"rXYZ", xyz(columns[0])),
        (b"gXYZ", xyz(columns[1])),
        (b"bXYZ", xyz(columns[2])),
        (b"rTRC", curve),
        (b"gTRC", curve),
        (b"bTRC", curve),
    ]
    table, bodies, start = struct.pack(">I", len(tags)), b"", 132 + 12 * len(tags)
    for name, body in tags:
        table += struct.pack(">4sII", name, start + len(bodies), len(body))
        bodies += body + bytes(-len(body) % 4)
    size = start + len(bodies)
    date = struct.pack(">6H", 2024, 1, 1, 0, 0, 0)
    header = struct.pack(">I4sI4s4s4s", size, bytes(4), 0x04300000, b"mntr", b"RGB ", b"XYZ ") + date + b"acsp"
    header += bytes(4 + 4 + 4 + 4 + 8 + 4) + b"".join(_fixed(v) for v in d50) + bytes(4 + 16 + 28)
    return header + table + bodies
