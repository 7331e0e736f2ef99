"""Times general-purpose libraries on the same frame and tables: OpenColorIO, OpenCV, ffmpeg.

peers.py FOLDER: FOLDER holds frame.f32 (RGBA floats) and table33.cube, table65.cube. One line of
JSON per figure on standard output, as the native program prints them, and timed alike: one thread
by its own clock, two by the clock on the wall.
"""

import json
import resource
import shutil
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import cv2
import numpy as np
import PyOpenColorIO as ocio

WIDTH, HEIGHT = 2000, 1000
FOLDER = Path(sys.argv[1])
FRAME = np.fromfile(FOLDER / "frame.f32", np.float32).reshape(HEIGHT, WIDTH, 4)


def figure(side, name, run, frame=FRAME, clock=time.thread_time, least=5, most=60, seconds=2.0):
    taken, start = [], time.perf_counter()
    while len(taken) < least or (len(taken) < most and time.perf_counter() - start < seconds):
        now = frame.copy()
        begin = clock()
        run(now)
        taken.append(clock() - begin)
    pixels = frame.shape[0] * frame.shape[1]
    print(json.dumps({"side": side, "name": name, "pixels": pixels, "seconds": taken}), flush=True)


def processor(transform, flags):
    raw = ocio.Config.CreateRaw().getProcessor(transform)
    depth = ocio.BIT_DEPTH_F32
    return raw.getOptimizedCPUProcessor(depth, depth, flags)


def table(size):
    path = str(FOLDER / f"table{size}.cube")
    return ocio.FileTransform(path, interpolation=ocio.INTERP_TETRAHEDRAL)


def opencolorio():
    # LogC3 at exposure index 800 (ARRI, 2012), and the chain's other numbers as in work.rs.
    log = ocio.LogCameraTransform(
        base=10,
        linSideBreak=[0.010591] * 3,
        logSideSlope=[0.247190] * 3,
        logSideOffset=[0.385537] * 3,
        linSideSlope=[5.555556] * 3,
        linSideOffset=[0.052272] * 3,
        linearSlope=[5.367655] * 3,
        direction=ocio.TRANSFORM_DIR_INVERSE,
    )
    rows = [[1.62, -0.54, -0.08], [-0.07, 1.33, -0.26], [0.02, -0.23, 1.21]]
    matrix = np.eye(4)
    matrix[:3, :3] = rows
    matrix = ocio.MatrixTransform(matrix.flatten().tolist())
    cdl = ocio.CDLTransform()
    cdl.setStyle(ocio.CDL_ASC)
    cdl.setSlope([1.1, 1.0, 0.9])
    cdl.setOffset([0.01, 0.0, -0.01])
    cdl.setPower([0.9, 1.0, 1.1])
    cdl.setSat(1.1)
    work = {
        "matrix": matrix,
        "LogC3 to linear": log,
        "CDL with power and saturation": cdl,
        "table 33": table(33),
        "table 65": table(65),
        "chain LogC3 + matrix + CDL": ocio.GroupTransform([log, matrix, cdl]),
        "chain LogC3 + matrix + CDL + table 33": ocio.GroupTransform([log, matrix, cdl, table(33)]),
    }
    kinds = {
        "OpenColorIO, default": ocio.OPTIMIZATION_DEFAULT,
        "OpenColorIO, lossless": ocio.OPTIMIZATION_LOSSLESS,
    }
    for name, transform in work.items():
        for side, flags in kinds.items():
            cpu = processor(transform, flags)
            figure(side, name, lambda now: apply(cpu, now))
        cpu = processor(transform, ocio.OPTIMIZATION_DEFAULT)
        with ThreadPoolExecutor(2) as pool:
            halves = lambda now: list(pool.map(lambda h: apply(cpu, h), np.split(now, 2)))
            figure("OpenColorIO, 2 threads", name, halves, clock=time.perf_counter)


def apply(cpu, rgba):
    cpu.apply(ocio.PackedImageDesc(rgba, rgba.shape[1], rgba.shape[0], 4))


def opencv():
    rgb = np.ascontiguousarray(FRAME[:, :, :3])
    for threads in (1, 2):
        cv2.setNumThreads(threads)
        side = "OpenCV" if threads == 1 else "OpenCV, 2 threads"
        for sigma in (5, 20, 80):
            blur = lambda now: cv2.GaussianBlur(now, (0, 0), sigma, borderType=cv2.BORDER_REFLECT)
            clock = time.thread_time if threads == 1 else time.perf_counter
            figure(side, f"blur {sigma} px", blur, rgb, clock, least=3)


def ffmpeg():
    """Planar floats through lut3d, less what it takes to read them and throw them away."""
    program = shutil.which("ffmpeg")
    if program is None:
        return
    frames = 12
    planar = np.ascontiguousarray(FRAME[:, :, [1, 2, 0]].transpose(2, 0, 1)).tobytes() * frames
    raw = FOLDER / "planar.raw"
    raw.write_bytes(planar)
    source = ["-f", "rawvideo", "-pix_fmt", "gbrpf32le", "-s", f"{WIDTH}x{HEIGHT}", "-i", str(raw)]

    def run(*filters):
        line = [program, "-v", "error", "-threads", "1", "-filter_threads", "1", *source]
        begin = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([*line, *filters, "-f", "null", "-"], check=True)
        end = resource.getrusage(resource.RUSAGE_CHILDREN)
        return end.ru_utime + end.ru_stime - begin.ru_utime - begin.ru_stime

    plain = min(run() for _ in range(5))
    for size in (33, 65):
        filters = ["-vf", f"lut3d=file={FOLDER / f'table{size}.cube'}:interp=tetrahedral"]
        taken = [(run(*filters) - plain) / frames for _ in range(7)]
        entry = {"side": "ffmpeg", "name": f"table {size}", "pixels": WIDTH * HEIGHT}
        print(json.dumps(entry | {"seconds": taken}), flush=True)
    raw.unlink()


def versions():
    words = {
        "OpenColorIO": ocio.GetVersion(),
        "OpenCV": cv2.__version__,
        "numpy": np.__version__,
    }
    if program := shutil.which("ffmpeg"):
        first = subprocess.run([program, "-version"], capture_output=True, text=True).stdout
        words["ffmpeg"] = first.split()[2]
    print(json.dumps({"versions": words}), flush=True)


versions()
opencolorio()
opencv()
ffmpeg()
