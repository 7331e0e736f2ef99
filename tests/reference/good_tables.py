"""Writes ../data/tables/good: tables without a mistake, made by general-purpose libraries.

They are what `crates/handover/tests/scored.rs` holds the table check against, so none of them is made by
this project's own code. colour-science gives the curves and primaries of camera encodings and screens,
OpenColorIO its built-in transforms, ffmpeg its identity lattices (where the program is
installed; files of a program that is missing are left as they are).

A table is a lattice picture of 16 bits (level 4: 16 nodes an edge, level 5: 25) or, where values leave
0 ... 1, a `.cube` of 9 nodes an edge. index.json names each file's maker, what it is, what goes in and
what comes out (ids of this project, empty where it has none). Run:

    python -m venv .venv && .venv/bin/pip install -r requirements.txt
    .venv/bin/python good_tables.py
"""

import json
import pathlib
import shutil
import struct
import subprocess
import warnings
import zlib

import numpy as np

warnings.filterwarnings("ignore")

import colour  # noqa: E402
import PyOpenColorIO as ocio  # noqa: E402

FOLDER = pathlib.Path(__file__).parent.parent / "data" / "tables" / "good"
INDEX = []


def lattice(size):
    axis = np.linspace(0.0, 1.0, size)
    b, g, r = np.meshgrid(axis, axis, axis, indexing="ij")
    return np.stack([r, g, b], axis=-1).reshape(-1, 3)


def png16(side, codes):
    """A PNG of 16 bits, each row as differences to the row above: the smaller of two simple filters."""
    rows = codes.reshape(side, side * 3).astype(">u2")
    raw = rows.view(np.uint8).reshape(side, -1).astype(np.int16)
    above = np.vstack([np.zeros((1, raw.shape[1]), np.int16), raw[:-1]])
    left = np.hstack([np.zeros((side, 6), np.int16), raw[:, :-6]])
    packed = []
    for filter_type, prediction in ((1, left), (2, above)):
        lines = ((raw - prediction) % 256).astype(np.uint8)
        data = b"".join(bytes([filter_type]) + line.tobytes() for line in lines)
        packed.append(zlib.compress(data, 9))

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", side, side, 16, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", min(packed, key=len)) + chunk(b"IEND", b"")


def write(name, maker, what, f, into="", out="", level=4):
    size = level * level
    values = np.clip(np.asarray(f(lattice(size)), float), 0.0, 1.0)
    file = f"{name}.png"
    (FOLDER / file).write_bytes(png16(level**3, np.rint(values * 65535)))
    INDEX.append({"file": file, "maker": maker, "what": what, "from": into, "to": out})


def write_cube(name, maker, what, f, into="", out="", size=9):
    rows = np.asarray(f(lattice(size)), float)
    text = f"LUT_3D_SIZE {size}\n" + "".join("%.6f %.6f %.6f\n" % tuple(row) for row in rows)
    file = f"{name}.cube"
    (FOLDER / file).write_text(text, encoding="utf-8")
    INDEX.append({"file": file, "maker": maker, "what": what, "from": into, "to": out})


# --- colour-science ---------------------------------------------------------------------------------

COLOUR = f"colour-science {colour.__version__}"
SPACES = colour.RGB_COLOURSPACES

CAMERAS = {
    "logc3": ("ARRI LogC3", "ARRI Wide Gamut 3"),
    "logc4": ("ARRI LogC4", "ARRI Wide Gamut 4"),
    "slog2-sgamut": ("S-Log2", "S-Gamut"),
    "slog3-sgamut3": ("S-Log3", "S-Gamut3"),
    "slog3-sgamut3cine": ("S-Log3", "S-Gamut3.Cine"),
    "vlog": ("V-Log", "V-Gamut"),
    "clog": ("Canon Log", "Cinema Gamut"),
    "clog2": ("Canon Log 2", "Cinema Gamut"),
    "clog3": ("Canon Log 3", "Cinema Gamut"),
    "flog": ("F-Log", "F-Gamut"),
    "flog2": ("F-Log2", "F-Gamut"),
    "nlog": ("N-Log", "N-Gamut"),
    "llog": ("L-Log", "ITU-R BT.2020"),
    "log3g10": ("Log3G10", "REDWideGamutRGB"),
    "dlog": ("D-Log", "DJI D-Gamut"),
    "applelog": ("Apple Log Profile", "ITU-R BT.2020"),
}


def to_primaries(rgb, source, target):
    return colour.RGB_to_RGB(rgb, SPACES[source], SPACES[target], "CAT02")


def shoulder(light):
    """Light from 0 on to 0 ... 1: x (1 + x / w^2) / (1 + x), the extended curve of Reinhard et al.,
    "Photographic Tone Reproduction for Digital Images" (2002), white w at 8."""
    light = np.maximum(light, 0.0)
    return np.minimum(light * (1.0 + light / 64.0) / (1.0 + light), 1.0)


def monitor(light):
    return colour.models.eotf_inverse_BT1886(np.clip(light, 0.0, 1.0))


def cameras():
    for i, (name, (curve, gamut)) in enumerate(CAMERAS.items()):

        def rendered(rgb, curve=curve, gamut=gamut):
            light = colour.log_decoding(rgb, curve)
            return monitor(shoulder(2.0 * to_primaries(light, gamut, "ITU-R BT.709")))

        write(
            f"{name}-rec709",
            COLOUR,
            f"{curve}, {gamut} to Rec.709, gamma 2.4, through Reinhard's curve",
            rendered,
            name,
            "rec709",
            level=5 if i % 5 == 0 else 4,
        )
    for name in ("logc3", "slog3-sgamut3cine", "vlog", "flog2"):
        curve, gamut = CAMERAS[name]

        def grey(rgb, curve=curve, gamut=gamut):
            xyz = SPACES[gamut].matrix_RGB_to_XYZ @ colour.log_decoding(rgb, curve).T
            return np.repeat(monitor(shoulder(2.0 * xyz[1]))[:, None], 3, axis=1)

        write(f"{name}-grey", COLOUR, f"{curve}, {gamut} to black and white", grey, name, "rec709")
    for name, other in (("logc3", "slog3-sgamut3cine"), ("vlog", "logc3"), ("flog2", "vlog")):
        (curve, gamut), (curve_to, gamut_to) = CAMERAS[name], CAMERAS[other]

        def recoded(rgb, a=curve, ga=gamut, b=curve_to, gb=gamut_to):
            light = to_primaries(colour.log_decoding(rgb, a), ga, gb)
            return colour.log_encoding(np.maximum(light, -0.005), b)

        write(f"{name}-to-{other}", COLOUR, f"{curve} to {curve_to}", recoded, name)
    write_cube(
        "logc3-light",
        COLOUR,
        "ARRI LogC3 to linear light",
        lambda rgb: colour.log_decoding(rgb, "ARRI LogC3"),
        "logc3",
    )


def screens():
    def converted(source, target):
        return lambda rgb: colour.RGB_to_RGB(
            rgb, SPACES[source], SPACES[target], None, apply_cctf_decoding=True, apply_cctf_encoding=True
        )

    for name, source, target, into, out in (
        ("p3-srgb", "Display P3", "sRGB", "display-p3", "srgb"),
        ("srgb-p3", "sRGB", "Display P3", "srgb", "display-p3"),
        ("srgb-adobe", "sRGB", "Adobe RGB (1998)", "srgb", ""),
        ("adobe-srgb", "Adobe RGB (1998)", "sRGB", "", "srgb"),
    ):
        write(name, COLOUR, f"{source} to {target}", converted(source, target), into, out)
    for name, power in (("gamma-2.2-to-2.4", 2.2 / 2.4), ("gamma-2.4-to-2.2", 2.4 / 2.2), ("gamma-0.7", 0.7)):
        write(name, COLOUR, f"power {power:.3f}", lambda rgb, p=power: colour.algebra.spow(rgb, p), "rec709", "rec709")

    def hlab(chroma):
        def moved(rgb):
            xyz = colour.sRGB_to_XYZ(rgb)
            lab = colour.XYZ_to_Oklab(xyz)
            lab[..., 1:] *= chroma
            return colour.XYZ_to_sRGB(colour.Oklab_to_XYZ(lab))

        return moved

    for chroma in (0.5, 0.8, 1.15, 1.3):
        write(f"oklab-chroma-{chroma}", COLOUR, f"chroma in Oklab times {chroma}", hlab(chroma), "srgb", "srgb")
    for method in ("Bradford", "CAT16"):
        for name, light in (("warmer", "D55"), ("cooler", "D75")):
            illuminants = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]
            white = colour.xy_to_XYZ(illuminants["D65"]), colour.xy_to_XYZ(illuminants[light])
            matrix = colour.adaptation.matrix_chromatic_adaptation_VonKries(*white, transform=method)

            def adapted(rgb, matrix=matrix):
                return colour.XYZ_to_sRGB(colour.sRGB_to_XYZ(rgb) @ matrix.T)

            write(f"{name}-{method.lower()}", COLOUR, f"sRGB, D65 to {light} by {method}", adapted, "srgb", "srgb")


# --- OpenColorIO ------------------------------------------------------------------------------------

OCIO = f"OpenColorIO {ocio.__version__}"


def processed(*steps):
    group = ocio.GroupTransform()
    for step in steps:
        group.appendTransform(step)
    cpu = ocio.Config.CreateRaw().getProcessor(group).getDefaultCPUProcessor()

    def f(rgb):
        pixels = np.ascontiguousarray(rgb, np.float32).copy()
        cpu.applyRGB(pixels)
        return pixels

    return f


def built_in(style, inverse=False):
    way = ocio.TRANSFORM_DIR_INVERSE if inverse else ocio.TRANSFORM_DIR_FORWARD
    return ocio.BuiltinTransform(style=style, direction=way)


def aces():
    sources = {
        "acescct": "ACEScct_to_ACES2065-1",
        "logc3": "ARRI_ALEXA-LOGC-EI800-AWG_to_ACES2065-1",
        "logc4": "ARRI_LOGC4_to_ACES2065-1",
        "slog3-sgamut3cine": "SONY_SLOG3-SGAMUT3.CINE_to_ACES2065-1",
        "vlog": "PANASONIC_VLOG-VGAMUT_to_ACES2065-1",
        "clog3": "CANON_CLOG3-CGAMUT_to_ACES2065-1",
        "log3g10": "RED_LOG3G10-RWG_to_ACES2065-1",
        "applelog": "APPLE_LOG_to_ACES2065-1",
    }
    video = "ACES-OUTPUT - ACES2065-1_to_CIE-XYZ-D65 - SDR-VIDEO_1.0"
    video_2 = "ACES-OUTPUT - ACES2065-1_to_CIE-XYZ-D65 - SDR-100nit-REC709_2.0"
    rec709 = "DISPLAY - CIE-XYZ-D65_to_REC.1886-REC.709"
    for i, (name, source) in enumerate(sources.items()):
        write(
            f"aces1-{name}",
            OCIO,
            f"{source}, ACES 1 SDR video, Rec.709",
            processed(built_in(source), built_in(video), built_in(rec709)),
            name,
            "rec709",
            level=5 if i % 4 == 0 else 4,
        )
        write(
            f"aces2-{name}",
            OCIO,
            f"{source}, ACES 2 SDR Rec.709",
            processed(built_in(source), built_in(video_2), built_in(rec709)),
            name,
            "rec709",
        )
    for name, output, display, out in (
        ("aces1-acescct-srgb", video, "DISPLAY - CIE-XYZ-D65_to_sRGB", "srgb"),
        ("aces1-acescct-rec2020", video, "DISPLAY - CIE-XYZ-D65_to_REC.1886-REC.2020", "rec2020"),
        (
            "aces2-acescct-p3",
            "ACES-OUTPUT - ACES2065-1_to_CIE-XYZ-D65 - SDR-100nit-P3-D65_2.0",
            "DISPLAY - CIE-XYZ-D65_to_DisplayP3",
            "display-p3",
        ),
        (
            "aces1-acescct-d60",
            "ACES-OUTPUT - ACES2065-1_to_CIE-XYZ-D65 - SDR-VIDEO-D60sim-D65_1.0",
            rec709,
            "rec709",
        ),
        (
            "aces1-acescct-pq",
            "ACES-OUTPUT - ACES2065-1_to_CIE-XYZ-D65 - HDR-VIDEO-1000nit-15nit-REC2020lim_1.1",
            "DISPLAY - CIE-XYZ-D65_to_REC.2100-PQ",
            "",
        ),
    ):
        steps = processed(built_in(sources["acescct"]), built_in(output), built_in(display))
        write(name, OCIO, f"ACEScct, {output.split(' - ')[-1]}, {display.split('_to_')[-1]}", steps, "acescct", out)
    write(
        "logc3-to-acescct",
        OCIO,
        "ARRI LogC3 to ACEScct",
        processed(built_in(sources["logc3"]), built_in(sources["acescct"], inverse=True)),
        "logc3",
    )
    write(
        "logc3-to-slog3",
        OCIO,
        "ARRI LogC3 to S-Log3, S-Gamut3.Cine",
        processed(built_in(sources["logc3"]), built_in(sources["slog3-sgamut3cine"], inverse=True)),
        "logc3",
    )
    write_cube(
        "acescct-light",
        OCIO,
        "ACEScct to linear light",
        processed(built_in("CURVE - ACEScct-LOG_to_LINEAR")),
        "acescct",
    )
    write_cube(
        "vlog-light",
        OCIO,
        "V-Log to ACES2065-1",
        processed(built_in(sources["vlog"])),
        "vlog",
        size=17,
    )


def corrections():
    """ASC CDLs of values that a set uses: within a stop of each other, saturation 0.7 to 1.2."""
    for name, slope, offset, power, saturation in (
        ("cdl-lift", (1.0, 1.0, 1.0), (0.02, 0.02, 0.02), (1.0, 1.0, 1.0), 1.0),
        ("cdl-warm", (1.08, 1.0, 0.9), (0.0, 0.0, 0.0), (1.0, 1.0, 1.0), 1.0),
        ("cdl-cool", (0.94, 1.0, 1.06), (0.01, 0.0, -0.01), (1.0, 1.0, 1.0), 0.9),
        ("cdl-dense", (1.1, 1.1, 1.1), (-0.03, -0.03, -0.03), (1.15, 1.15, 1.15), 1.1),
        ("cdl-teal", (1.05, 1.0, 0.95), (-0.02, 0.0, 0.02), (1.0, 0.97, 0.95), 1.05),
        ("cdl-pale", (0.9, 0.9, 0.9), (0.05, 0.05, 0.05), (0.95, 0.95, 0.95), 0.7),
    ):
        step = ocio.CDLTransform()
        step.setSlope(slope)
        step.setOffset(offset)
        step.setPower(power)
        step.setSat(saturation)
        step.setStyle(ocio.CDL_ASC)
        write(name, OCIO, f"ASC CDL, {name[4:]}", processed(step), "rec709", "rec709")


# --- identity lattices of other programs ---------------------------------------------------------------


def identities():
    known = (
        ("identity-ffmpeg", "ffmpeg", 4, ["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", "haldclutsrc=level=4"]),
        ("identity-ffmpeg-6", "ffmpeg", 6, ["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", "haldclutsrc=level=6"]),
    )
    for name, program, level, command in known:
        if shutil.which(program) is None:
            continue
        version = subprocess.run([program, "-version"], capture_output=True, text=True).stdout.split()[2]
        target = FOLDER / f"{name}.png"
        subprocess.run([*command, "-frames:v", "1", "-pix_fmt", "rgb48be", str(target)], check=True)
        INDEX.append(
            {"file": target.name, "maker": f"{program} {version}", "what": f"identity lattice, level {level}", "from": "rec709", "to": "rec709"}
        )


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for part in (cameras, screens, aces, corrections, identities):
        part()
    INDEX.sort(key=lambda entry: entry["file"])
    (FOLDER / "index.json").write_text(json.dumps(INDEX, indent=1) + "\n", encoding="utf-8")
    print(f"wrote {len(INDEX)} tables, {sum(f.stat().st_size for f in FOLDER.iterdir()) / 1e6:.2f} MB, to {FOLDER}")
