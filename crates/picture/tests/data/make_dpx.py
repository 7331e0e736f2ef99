"""Makes the DPX pictures of this folder and what they must read as (expected_dpx.json).

    python make_dpx.py

Needs NumPy, OpenImageIO 3.0 (PyPI: oiio-python 3.0.10.0.1) and ffmpeg 5.1 (Debian 12). The codes are
chosen here and written by those two; each file is read back by the other one, where that reads it.
"""

import hashlib
import json
import subprocess
from pathlib import Path

import numpy as np
import OpenImageIO as oiio

HERE = Path(__file__).parent
WIDTH, HEIGHT = 13, 9
random = np.random.default_rng(268)
expected = {}


def spread(codes, bits):
    """Codes as the reader gives them: 8 bits as they are, others over 16 bits, rounded."""
    if bits == 8:
        return codes.astype("u1")
    largest = 2**bits - 1
    return ((codes.astype(np.int64) * 65535 + largest // 2) // largest).astype("<u2")


def note(name, codes, bits):
    """Notes what the codes (height, width, 3) must be read as."""
    samples = np.ascontiguousarray(spread(codes, bits))
    expected[name] = {"bits": bits, "sha256": hashlib.sha256(samples.tobytes()).hexdigest()}


def codes_of(bits, channels=3):
    codes = random.integers(0, 2**bits, (HEIGHT, WIDTH, channels))
    codes[0, 0], codes[0, 1] = 0, 2**bits - 1
    return codes


def by_oiio(name, bits, packing, endian, channels=3):
    codes = codes_of(bits, channels)
    spec = oiio.ImageSpec(WIDTH, HEIGHT, channels, "uint8" if bits == 8 else "uint16")
    spec.attribute("oiio:BitsPerSample", bits)
    spec.attribute("dpx:Packing", packing)
    spec.attribute("oiio:UnassociatedAlpha", 1)
    spec.attribute("oiio:Endian", endian)
    output = oiio.ImageOutput.create("dpx")
    assert output.open(str(HERE / name), spec), oiio.geterror()
    # What it takes as 16 bits it shifts down.
    wide = codes.astype("u1") if bits == 8 else (codes << (16 - bits)).astype("u2")
    assert output.write_image(np.ascontiguousarray(wide)), output.geterror()
    output.close()
    back = oiio.ImageInput.open(str(HERE / name))
    read = back.read_image("uint8" if bits == 8 else "uint16")
    assert back.spec().get_int_attribute("oiio:BitsPerSample") == bits, name
    again = read if bits == 8 else read >> (16 - bits)
    assert (again == codes).all(), name
    note(name, codes[..., :3], bits)


def by_ffmpeg(name, bits, pixels):
    codes = codes_of(bits)
    if pixels.startswith("gbrp"):
        planes = [codes[..., i].astype("<u2").tobytes() for i in (1, 2, 0)]
        raw = b"".join(planes)
    else:
        raw = codes.astype({8: "u1", 16: "<u2"}[bits]).tobytes()
    as_written = pixels.replace("le", "be") if name.endswith("be.dpx") else pixels
    subprocess.run(
        ["ffmpeg", "-v", "error", "-y", "-f", "rawvideo", "-pix_fmt", pixels, "-s", f"{WIDTH}x{HEIGHT}",
         "-i", "-", "-pix_fmt", as_written, "-frames:v", "1", "-update", "1", str(HERE / name)],
        input=raw, check=True)
    note(name, codes, bits)


for bits, packings in [
    (8, ["Packed"]),
    (10, ["Filled, method A", "Filled, method B", "Packed"]),
    (12, ["Packed"]),  # which OpenImageIO writes whatever it is asked for
    (16, ["Packed"]),
]:
    for packing in packings:
        for endian in ["little", "big"]:
            short = packing.replace("Filled, method ", "").lower()
            by_oiio(f"oiio-{bits}-{short}-{endian}.dpx", bits, packing, endian)
by_oiio("oiio-16-rgba-big.dpx", 16, "Packed", "big", channels=4)
by_ffmpeg("ffmpeg-8.dpx", 8, "rgb24")
by_ffmpeg("ffmpeg-10-le.dpx", 10, "gbrp10le")
by_ffmpeg("ffmpeg-10-be.dpx", 10, "gbrp10le")
by_ffmpeg("ffmpeg-12-le.dpx", 12, "gbrp12le")
by_ffmpeg("ffmpeg-16-be.dpx", 16, "rgb48le")
(HERE / "expected_dpx.json").write_text(json.dumps(expected, indent=1) + "\n")
