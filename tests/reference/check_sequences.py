"""Sequences against other libraries: what goes on from file to file, and what grain does over time.

Outside sources: OpenEXR's own Python package for attributes, windows and values; ExifRead for what a camera
wrote; OpenColorIO for the look's table, frame by frame. Run by `cargo xtask test reference`.
"""

import os
import subprocess
import tempfile
from fractions import Fraction
from pathlib import Path

import exifread
import numpy as np
import OpenEXR
import PyOpenColorIO as ocio
from PIL import Image
from PIL.TiffImagePlugin import IFDRational, ImageFileDirectory_v2

LOOKWRIGHT = os.environ["LOOKWRIGHT"]


def run(*arguments, **more):
    words = [LOOKWRIGHT, *map(str, arguments)]
    return subprocess.run(words, check=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE, **more)


def corners(window):
    return [[int(v) for v in corner] for corner in window]


def attributes_of_openexr(folder, look):
    """Time code, rate, reel, aspect and windows go on; colour is the output's own; place does not."""
    random = np.random.default_rng(5)
    pixels = random.uniform(0.02, 0.6, (54, 74, 3)).astype(np.float16)
    code = OpenEXR.TimeCode(10, 23, 59, 12, *[0] * 14)
    display = (np.array([0, 0], np.int32), np.array([63, 47], np.int32))
    data = (np.array([-4, -2], np.int32), np.array([69, 51], np.int32))
    header = {
        "type": OpenEXR.scanlineimage, "compression": OpenEXR.ZIP_COMPRESSION,
        "displayWindow": display, "dataWindow": data, "pixelAspectRatio": 2.0, "timeCode": code,
        "framesPerSecond": Fraction(24000, 1001), "reelName": "A001C003", "owner": "Saltmarket",
        "comments": "second take", "latitude": 53.5, "GPS:City": "Saltmarket", "isoSpeed": 800.0,
        "chromaticities": (0.64, 0.33, 0.3, 0.6, 0.15, 0.06, 0.3127, 0.329),
        "oiio:ColorSpace": "sRGB", "whiteLuminance": 100.0,
    }
    channels = {"R": pixels[..., 0], "G": pixels[..., 1], "B": pixels[..., 2],
                "A": np.ones(pixels.shape[:2], np.float16), "depth.Z": np.ones(pixels.shape[:2], np.float32)}
    channels = {name: np.ascontiguousarray(plane) for name, plane in channels.items()}
    source = folder / "ferry.1001.exr"
    OpenEXR.File(header, channels).write(str(source))
    common = ["render", look, source, "--from", "acescg", "--no-texture"]
    said = run(*common, "-o", folder / "out.exr", "--stage", "print").stderr.decode()
    assert "transparency was dropped" in said, said
    assert "depth.Z" in said, said
    made = OpenEXR.File(str(folder / "out.exr"))
    found = made.header()
    assert corners(found["displayWindow"]) == corners(display)
    assert corners(found["dataWindow"]) == corners(data)
    assert found["pixelAspectRatio"] == 2.0 and found["reelName"] == "A001C003"
    assert found["owner"] == "Saltmarket" and found["isoSpeed"] == 800
    assert "second take" in found["comments"] and "model" in found["comments"]
    assert str(found["timeCode"]) == str(code), found["timeCode"]
    assert found["framesPerSecond"] == Fraction(24000, 1001)
    # The print stage leaves in AP1 (SMPTE ST 2065-1 and the Academy's S-2014-004).
    assert np.allclose(found["chromaticities"], (0.713, 0.293, 0.165, 0.83, 0.128, 0.044, 0.32168, 0.33767))
    for gone in ["latitude", "GPS:City", "oiio:ColorSpace", "whiteLuminance"]:
        assert gone not in found, gone
    # What is meant to be seen is the same with and without overscan, but for light from beyond it.
    run(*common, "-o", folder / "seen.tif", "--depth", "f32", "--stage", "print")
    whole = made.channels()["RGB"].pixels
    assert whole.shape == (54, 74, 3)
    from_tiff = tiff_floats(folder / "seen.tif", (48, 64, 3))
    assert np.allclose(whole[2:50, 4:68], from_tiff, rtol=1e-5, atol=1e-6)
    run(*common, "--keep-place", "-o", folder / "place.exr")
    assert abs(OpenEXR.File(str(folder / "place.exr")).header()["latitude"] - 53.5) < 1e-5
    grain_lies_where_it_lies(folder, look, source)
    to_dpx_and_back(folder, look, source)


def tiff_floats(path, shape):
    """The floats of a TIFF that Lookwright wrote: uncompressed strips behind eight bytes (TIFF 6.0)."""
    count = int(np.prod(shape))
    return np.frombuffer(path.read_bytes(), "<f4", count, 8).reshape(shape)


def grain_lies_where_it_lies(folder, look, source):
    """Overscan moves no grain: it is that of the frame, and goes on beyond it."""
    common = ["render", look, source, "--from", "acescg", "--seed", "look"]
    run(*common, "-o", folder / "grain.exr")
    run(*common, "-o", folder / "grain.tif", "--depth", "f32")
    whole = OpenEXR.File(str(folder / "grain.exr")).channels()["RGB"].pixels[2:50, 4:68]
    seen = tiff_floats(folder / "grain.tif", (48, 64, 3))
    middle = np.s_[12:36, 16:48]
    assert np.abs(whole - seen)[middle].mean() < 0.1 * seen[middle].std()
    a, b = (p[middle] - p[middle].mean((0, 1)) for p in (whole, seen))
    assert (a * b).sum() / np.sqrt((a * a).sum() * (b * b).sum()) > 0.98


def to_dpx_and_back(folder, look, source):
    """By way of DPX: ffmpeg's reader sees time code, rate and aspect, and so does OpenEXR afterwards."""
    run("render", look, source, "--from", "acescg", "-o", folder / "out.1001.dpx")
    told = subprocess.run(
        ["ffprobe", "-v", "error", "-show_entries", "stream=sample_aspect_ratio,r_frame_rate:frame_tags:stream_tags",
         "-show_frames", folder / "out.1001.dpx"], check=True, capture_output=True, text=True).stdout
    assert "sample_aspect_ratio=2:1" in told, told
    assert "timecode=10:23:59:12" in told, told
    run("render", look, folder / "out.1001.dpx", "--from", "rec709", "-o", folder / "back.exr")
    back = OpenEXR.File(str(folder / "back.exr")).header()
    assert back["pixelAspectRatio"] == 2.0
    assert str(back["timeCode"]).startswith(str(OpenEXR.TimeCode(10, 23, 59, 12, *[0] * 14))[:8])
    assert back["framesPerSecond"] == Fraction(24000, 1001)


def what_a_camera_wrote(folder, look):
    """Camera and date go on to JPEG, PNG and TIFF; place only if asked for; a serial number never."""
    exif = Image.Exif()
    exif[0x010F], exif[0x0110], exif[0x0132] = "Saltmarket", "Box 3", "2026:11:27 02:40:00"
    exif[0x0112] = 6
    below = exif.get_ifd(0x8769)
    below[0x9003], below[0x829D], below[0x8827], below[0xA431] = "2026:11:26 18:30:05", IFDRational(28, 10), 400, "S-12345"
    exif.get_ifd(0x8825)[1], exif.get_ifd(0x8825)[2] = "N", (53.0, 30.0, 0.0)
    picture = Image.linear_gradient("L").resize((64, 48)).convert("RGB")
    for ending in ["jpg", "png"]:
        picture.save(folder / f"photo.{ending}", exif=exif)
    of_tiff = ImageFileDirectory_v2()
    for tag in [0x010F, 0x0110, 0x0132]:
        of_tiff[tag] = exif[tag]
    of_tiff[0x8769], of_tiff[0x8825] = dict(below), dict(exif.get_ifd(0x8825))
    picture.save(folder / "photo.tif", tiffinfo=of_tiff)
    wanted = {"Image Make": "Saltmarket", "Image Model": "Box 3", "EXIF DateTimeOriginal": "2026:11:26 18:30:05",
              "EXIF FNumber": "14/5", "EXIF ISOSpeedRatings": "400"}
    for source in ["jpg", "tif", "png"]:
        for ending in ["jpg", "tif", "png"]:
            for place in [False, True]:
                made = folder / f"made.{ending}"
                more = ["--keep-place"] if place else []
                run("render", look, folder / f"photo.{source}", "--from", "srgb", "--overwrite", "-o", made, *more)
                with open(made, "rb") as file:
                    tags = {name: str(value) for name, value in exifread.process_file(file, details=False).items()}
                case = (source, ending, place, tags)
                for name, value in wanted.items():
                    assert tags.get(name) == value, (name, case)
                assert not any("S-12345" in value for value in tags.values()), case
                assert any(name.startswith("GPS") for name in tags) == place, case
                # It stands upright already.
                assert tags.get("Image Orientation", "Horizontal (normal)") == "Horizontal (normal)", case
                Image.open(made).load()


def the_table_frame_by_frame(folder, look):
    """OpenColorIO with the look's table gives what the sequence without texture shows."""
    random = np.random.default_rng(9)
    (folder / "in").mkdir()
    frames = []
    for number in range(1, 7):
        ramp = np.linspace(0.1 + 0.02 * number, 0.75, 64)[None, :, None]
        code = np.clip(ramp * np.ones((36, 1, 3)) + random.normal(0, 0.03, (36, 64, 3)), 0, 1)
        frames.append(np.round(code * 65535).astype("<u2"))
    run("render", look, "-", "--raw", "64x36:rgb16", "--from", "logc3", "--before", "--first-frame", "1",
        "-o", folder / "in/s.####.png", "--depth", "16", input=b"".join(frame.tobytes() for frame in frames))
    shown = run("render", look, "-", "--raw", "64x36:rgb16", "--from", "logc3", "--no-texture", "-o", "-",
                "--format", "rgb16", input=b"".join(frame.tobytes() for frame in frames)).stdout
    shown = np.frombuffer(shown, "<u2").reshape(len(frames), -1, 3) / 65535
    run("table", look, "--from", "logc3", "--grid", "65", "-o", folder / "look.cube")
    transform = ocio.FileTransform(str(folder / "look.cube"), interpolation=ocio.INTERP_TETRAHEDRAL)
    processor = ocio.Config.CreateRaw().getProcessor(transform).getDefaultCPUProcessor()
    for number, (frame, rendered) in enumerate(zip(frames, shown), 1):
        applied = np.ascontiguousarray(frame.reshape(-1, 3) / 65535, np.float32)
        processor.applyRGB(applied)
        off = np.abs(applied - rendered)
        assert off.mean() < 5e-4 and off.max() < 0.02, (number, off.mean(), off.max())


def grain_over_time(look):
    """200 frames of one grey: no two have grain in common, and the mean stays where it is."""
    frames, (width, height) = 200, (128, 96)
    grey = np.full((height, width, 3), round(0.4 * 65535), "<u2").tobytes()
    made = run("render", look, "-", "--raw", f"{width}x{height}:rgb16", "--from", "logc3", "--first-frame", "1001",
               "-o", "-", "--format", "rgbf32", input=grey * frames).stdout
    code = np.frombuffer(made, "<f4").reshape(frames, -1, 3).astype(float)
    means = code.mean(1)
    grain = (code - code.mean((0, 1))).reshape(frames, -1)
    assert grain.std() > 1e-3, "there is grain"
    # Variance of the mean frame against that of one: 1/n for independent frames, more for alike ones.
    together = grain.mean(0).var() / grain.var()
    correlation = (together - 1 / frames) / (1 - 1 / frames)
    assert abs(correlation) < 0.02, correlation
    unit = grain / np.sqrt((grain**2).sum(1, keepdims=True))
    for lag in (1, 2, 24):
        of_lag = (unit[:-lag] * unit[lag:]).sum(1).mean()
        assert abs(of_lag) < 0.02, (lag, of_lag)
    # A drift is a difference between parts of the shot; single frames scatter as so few grains must.
    parts = means.reshape(4, -1, 3).mean(1)
    drift = np.ptp(parts, axis=0).max()
    assert drift < 1 / 1023, drift
    print(f"grain: correlation {correlation:.5f}, drift {drift * 1023:.3f} of 1/1023, "
          f"single frames {np.ptp(means, axis=0).max() * 1023:.3f}")


with tempfile.TemporaryDirectory(prefix="sequences-") as name:
    folder = Path(name)
    look = folder / "look.json"
    run("new", "--stock", "overcast", "-o", look)
    attributes_of_openexr(folder, look)
    what_a_camera_wrote(folder, look)
    the_table_frame_by_frame(folder, look)
    grain_over_time(look)
