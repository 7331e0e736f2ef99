"""Makes the pictures of this folder and what reference libraries read in them (expected.json).

    python make.py PILLOW_TESTS PNGSUITE_PY COLORD_ICC

PILLOW_TESTS: `Tests/images` of the Pillow 13.0.0 source distribution; PNGSUITE_PY: the folder of
`pngsuite.py` in the pypng 0.20220715.0 source distribution; COLORD_ICC: the profiles of Debian's
colord-data 1.4.6. Needs Pillow 13.0.0, NumPy 2.4 and OpenEXR 3.5.3. See README.md for licences.
"""

import hashlib
import io
import json
import shutil
import struct
import sys
from pathlib import Path

import numpy as np
import OpenEXR
from PIL import Image, ImageCms, ImageOps

HERE = Path(__file__).parent
PILLOW, PNGSUITE, COLORD = (Path(a) for a in sys.argv[1:4])
expected = {"exact": {}, "jpeg": {}, "lab": {}}
random = np.random.default_rng(20)


def exact(name, samples):
    """Notes what the samples (height, width, 3) must be: size, type, digest of the bytes."""
    samples = np.ascontiguousarray(samples.astype(samples.dtype.newbyteorder("<")))
    expected["exact"][name] = {
        "size": [samples.shape[1], samples.shape[0]],
        "type": {"u1": "u8", "u2": "u16", "f4": "f32"}[samples.dtype.str[1:]],
        "sha256": hashlib.sha256(samples.tobytes()).hexdigest(),
    }


def upright_rgb(path):
    """A picture of 8 bits as Pillow reads it: upright, grey and palette expanded, alpha off."""
    image = ImageOps.exif_transpose(Image.open(path))
    if image.mode == "1":
        image = image.convert("L")
    if image.mode == "P":
        image = image.convert("RGBA" if "transparency" in image.info else "RGB")
    if image.mode == "LA":
        image = image.getchannel("L")
    pixels = np.asarray(image)
    if image.mode == "I;16":
        pixels = pixels.astype(np.uint16)
    if pixels.ndim == 2:
        pixels = np.stack([pixels] * 3, -1)
    return pixels[..., :3]


def jpeg(name):
    """Notes the means of 8 x 8 fields: decoders may round differently, so no digest."""
    pixels = upright_rgb(HERE / name).astype(np.float64)
    rows = np.array_split(pixels, 8, axis=0)
    fields = [[f.mean((0, 1)).round(3).tolist() for f in np.array_split(r, 8, axis=1)] for r in rows]
    expected["jpeg"][name] = {"size": [pixels.shape[1], pixels.shape[0]], "fields": fields}


def picture(width=75, height=54):
    y, x = np.mgrid[0:height, 0:width]
    smooth = np.stack([x * 3, y * 4, (x + y) * 2 - 20], -1)
    return (smooth + random.integers(0, 4, smooth.shape)).clip(0, 255).astype(np.uint8)


def orientations():
    for number in range(2, 9):
        for kind in ("jpg", "webp"):
            name = f"hopper_orientation_{number}.{kind}"
            shutil.copy(PILLOW / name, HERE / name)
            jpeg(name) if kind == "jpg" else exact(name, upright_rgb(HERE / name))


def pngsuite():
    sys.path.insert(0, str(PNGSUITE))
    import png
    import pngsuite as suite

    folder = HERE / "pngsuite"
    folder.mkdir(exist_ok=True)
    for key, data in sorted(suite.png.items()):
        name = f"pngsuite/{key}.png"
        (HERE / name).write_bytes(data)
        if not key.endswith("16"):
            exact(name, upright_rgb(HERE / name))
            continue
        # Pillow keeps 8 of 16 bits in colour; pypng itself is the reference for these.
        width, height, rows, info = png.Reader(bytes=data).read()
        pixels = np.array([list(row) for row in rows], np.uint16).reshape(height, width, -1)
        exact(name, np.dstack([pixels[..., :1]] * 3) if info["greyscale"] else pixels[..., :3])


def made():
    pixels = picture()
    image = Image.fromarray(pixels)
    exif = Image.Exif()
    exif[0x0112] = 6
    for name, options in {
        "baseline.jpg": {"quality": 85, "subsampling": 2, "exif": exif},
        "progressive.jpg": {"quality": 85, "progressive": True},
        "full-chroma.jpg": {"quality": 95, "subsampling": 0},
        "restart.jpg": {"restart_marker_blocks": 2, "subsampling": 1},
    }.items():
        image.save(HERE / name, **options)
        jpeg(name)
    image.convert("L").save(HERE / "grey.jpg", quality=90)
    jpeg("grey.jpg")
    image.save(HERE / "upright.png", exif=exif)
    exact("upright.png", upright_rgb(HERE / "upright.png"))
    image.save(HERE / "lossy.webp", exif=exif)
    image.save(HERE / "lossless.webp", lossless=True)
    image.convert("RGBA").save(HERE / "alpha.webp")
    for name in ("lossy.webp", "lossless.webp", "alpha.webp"):
        exact(name, upright_rgb(HERE / name))
    for compression in ("raw", "tiff_lzw", "tiff_adobe_deflate", "packbits"):
        name = f"{compression}.tif"
        image.save(HERE / name, compression=compression, tiffinfo={274: 3})
        exact(name, upright_rgb(HERE / name))
    grey = (pixels[..., 0].astype(np.uint16) * 256 + 17)
    Image.fromarray(grey).save(HERE / "grey16.tif", compression="tiff_lzw")
    exact("grey16.tif", np.stack([grey] * 3, -1))
    values = random.normal(0.5, 1.0, (13, 17)).astype(np.float32)
    Image.fromarray(values).save(HERE / "grey-f32.tif")
    exact("grey-f32.tif", np.stack([values] * 3, -1))


def openexr():
    y, x = np.mgrid[0:37, 0:21]
    stops = np.stack([np.sin(x / 4) + y / 9, np.cos(x / 5) + y / 8, x / 6 + np.sin(y / 3)], -1)
    light = (np.exp2(stops - 3) + random.normal(0, 0.004, (37, 21, 3))).astype(np.float16)
    light[3, 4] = [300, -0.25, 0]
    for short in ("no", "rle", "zips", "zip", "piz", "pxr24", "b44", "b44a", "dwaa", "dwab"):
        name = f"{short}.exr"
        header = {
            "compression": getattr(OpenEXR, f"{short.upper()}_COMPRESSION"),
            "type": OpenEXR.scanlineimage,
        }
        OpenEXR.File(header, {"RGB": light}).write(str(HERE / name))
        exact(name, OpenEXR.File(str(HERE / name)).channels()["RGB"].pixels.astype(np.float32))
    tiles = OpenEXR.TileDescription()
    tiles.xSize = tiles.ySize = 16
    header = {"compression": OpenEXR.ZIP_COMPRESSION, "type": OpenEXR.tiledimage, "tiles": tiles}
    floats = light.astype(np.float32) * 1.2345
    OpenEXR.File(header, {"RGBA": np.dstack([floats, np.ones((37, 21), np.float32)])}).write(
        str(HERE / "tiled.exr")
    )
    exact("tiled.exr", floats)
    # The data window begins left of the display window and ends above its lower edge.
    header = {
        "compression": OpenEXR.ZIP_COMPRESSION,
        "type": OpenEXR.scanlineimage,
        "dataWindow": ((-3, 2), (17, 38)),
        "displayWindow": ((0, 0), (20, 40)),
    }
    OpenEXR.File(header, {"RGB": floats}).write(str(HERE / "window.exr"))
    shown = np.zeros((41, 21, 3), np.float32)
    shown[2:39, 0:18] = floats[:, 3:]
    exact("window.exr", shown)


def radiance():
    """Written by hand after Ward, "Real Pixels", Graphics Gems II (1991), and read by its formula:
    value = (mantissa + 0) / 256 * 2 ** (exponent - 128)."""
    light = np.exp(random.normal(-1.0, 1.5, (11, 19, 3)))
    _, exponent = np.frexp(light.max(-1))
    mantissa = (light * 2.0 ** (8 - exponent)[..., None]).astype(np.uint8)
    rgbe = np.dstack([mantissa, (exponent + 128).astype(np.uint8)])
    values = (mantissa * 2.0 ** (exponent - 8)[..., None]).astype(np.float32)
    head = b"%s\nFORMAT=32-bit_rle_rgbe\n\n-Y 11 +X 19\n"
    (HERE / "flat.hdr").write_bytes(head % b"#?RADIANCE" + rgbe.tobytes())
    packed = bytearray(head % b"#?RGBE")
    for row in rgbe:
        packed += bytes([2, 2, 0, 19])
        for channel in range(4):
            packed += bytes([19]) + row[:, channel].tobytes()
    (HERE / "packed.hdr").write_bytes(packed)
    exact("flat.hdr", values)
    exact("packed.hdr", values)


def table_profile():
    """An RGB profile that is only a table (ICC.1:2001, lut16Type): a display of the 2.2th power
    with turned primaries, to CIELAB."""
    grid = 11  # every patch below lies on a grid point, since ways to interpolate differ
    axis = np.linspace(0, 1, grid) ** 2.2
    r, g, b = np.meshgrid(axis, axis, axis, indexing="ij")
    matrix = np.array([[0.55, 0.25, 0.1642], [0.27, 0.65, 0.08], [0.02, 0.09, 0.7149]])
    xyz = np.stack([r, g, b], -1) @ matrix.T / [0.9642, 1.0, 0.8249]
    f = np.where(xyz > 216 / 24389, np.cbrt(xyz), (24389 / 27 * xyz + 16) / 116)
    lab = np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], -1)
    codes = np.stack([lab[..., 0] * 652.8, (lab[..., 1] + 128) * 256, (lab[..., 2] + 128) * 256], -1)
    clut = codes.round().clip(0, 65535).astype(">u2").tobytes()
    identity = struct.pack(">9i", *(int(i % 4 == 0) * 65536 for i in range(9)))
    ramp = struct.pack(">2H", 0, 65535) * 3
    lut = b"mft2\0\0\0\0" + bytes([3, 3, grid, 0]) + identity + struct.pack(">2H", 2, 2) + ramp + clut + ramp
    text = b"A display table"
    desc = b"desc\0\0\0\0" + struct.pack(">I", len(text) + 1) + text + b"\0" + bytes(78)
    white = b"XYZ \0\0\0\0" + struct.pack(">3i", 63190, 65536, 54061)
    right = b"text\0\0\0\0CC0\0"
    tags, body, table = [(b"desc", desc), (b"cprt", right), (b"wtpt", white), (b"A2B0", lut)], b"", b""
    at = 128 + 4 + 12 * len(tags)
    for signature, data in tags:
        data += bytes(-len(data) % 4)
        table += signature + struct.pack(">2I", at + len(body), len(data))
        body += data
    rest = struct.pack(">I", len(tags)) + table + body
    head = struct.pack(">I4sI4s4s4s", 128 + len(rest), b"none", 0x02400000, b"scnr", b"RGB ", b"Lab ")
    head += struct.pack(">6H", 2025, 1, 1, 0, 0, 0) + b"acsp" + bytes(28)
    head += struct.pack(">3i", 63190, 65536, 54061) + bytes(48)
    return head + rest


def profiles():
    """8-bit patches under a profile, and what LittleCMS makes of them in CIELAB (D50, relative)."""
    steps = np.array([0, 51, 102, 153, 204, 255], np.uint8)
    r, g, b = np.meshgrid(steps, steps, steps, indexing="ij")
    image = Image.fromarray(np.stack([r, g, b], -1).reshape(12, 18, 3))
    named = ["AdobeRGB1998", "ProPhotoRGB", "ECI-RGBv2", "SwappedRedAndGreen"]
    icc = {name: (COLORD / f"{name}.icc").read_bytes() for name in named}
    icc["table"] = table_profile()
    lab = ImageCms.createProfile("LAB")
    for name, data in icc.items():
        image.save(HERE / f"{name}.tif", icc_profile=data, compression="tiff_lzw")
        source = ImageCms.ImageCmsProfile(io.BytesIO(data))
        intent = ImageCms.Intent.RELATIVE_COLORIMETRIC
        exactly = ImageCms.Flags.NOOPTIMIZE
        change = ImageCms.buildTransform(source, lab, "RGB", "LAB", intent, exactly)
        seen = np.asarray(ImageCms.applyTransform(image, change)).astype(int)
        a_b = np.where(seen[..., 1:] > 127, seen[..., 1:] - 256, seen[..., 1:])
        values = np.dstack([seen[..., :1] / 2.55, a_b]).round(2).reshape(-1, 3).tolist()
        expected["lab"][f"{name}.tif"] = values
    image.save(HERE / "sRGB.tif", icc_profile=(COLORD / "sRGB.icc").read_bytes())


orientations()
pngsuite()
made()
openexr()
radiance()
profiles()
(HERE / "expected.json").write_text(json.dumps(expected, separators=(",", ":"), sort_keys=True) + "\n")
