"""Makes the TIFF pictures of packed codes of this folder and what they must read as (expected_tiff.json).

    python make_tiff.py

Needs NumPy, OpenImageIO 3.0 (PyPI: oiio-python 3.0.10.0.1) and tifffile with imagecodecs. The codes are
chosen here and written by the first; each file is read back by the second.
"""

import hashlib
import json
from pathlib import Path

import numpy as np
import OpenImageIO as oiio
import tifffile

HERE = Path(__file__).parent
WIDTH, HEIGHT = 13, 9
random = np.random.default_rng(6)
expected = {}


def write(name, bits, compression, tile=0, channels=3):
    largest = 2**bits - 1
    codes = random.integers(0, largest + 1, (HEIGHT, WIDTH, channels))
    codes[0, 0], codes[0, 1] = 0, largest
    spread = ((codes * 65535 + largest // 2) // largest).astype("<u2")
    spec = oiio.ImageSpec(WIDTH, HEIGHT, channels, "uint16")
    spec.attribute("oiio:BitsPerSample", bits)
    spec.attribute("compression", compression)
    spec.attribute("tiff:Predictor", 1)
    spec.attribute("tiff:RowsPerStrip", 4)
    spec.attribute("oiio:UnassociatedAlpha", 1)
    spec.tile_width = spec.tile_height = tile
    output = oiio.ImageOutput.create("tif")
    assert output.open(str(HERE / name), spec), output.geterror()
    assert output.write_image(np.ascontiguousarray(spread)), output.geterror()
    output.close()
    with tifffile.TiffFile(HERE / name) as file:
        page = file.pages[0]
        assert page.bitspersample == bits and page.predictor == 1, name
        assert (page.asarray() == codes).all(), name
    digest = hashlib.sha256(np.ascontiguousarray(spread[..., :3]).tobytes()).hexdigest()
    expected[name] = {"bits": bits, "sha256": digest}


write("oiio-10-plain.tif", 10, "none")
write("oiio-10-lzw.tif", 10, "lzw")
write("oiio-10-zip.tif", 10, "zip")
write("oiio-10-tiles.tif", 10, "zip", tile=16)
write("oiio-10-rgba.tif", 10, "lzw", channels=4)
write("oiio-12-plain.tif", 12, "none")
write("oiio-14-zip.tif", 14, "zip")
(HERE / "expected_tiff.json").write_text(json.dumps(expected, indent=1) + "\n")
