"""Photographed-film looks: the core of Lookwright for notebooks and programs.

    import lookwright as lw

    look = lw.Look.new("overcast")
    look["scan.contrast.slope"] = 1.6
    render = lw.Renderer(look, source="slog3-sgamut3cine", screen="rec709")
    shown = render(code, frame=1001)           # (..., H, W, 3) in, the same shape out

The numbers are those of the page and of the command line, to the byte. Pictures are arrays of shape
(..., H, W, 3) of uint8, uint16, float16 or float32: whole numbers are shares of their largest one,
floats are code as it is. The interpreter's lock is released while the core works.

What is wrong is a ValueError with one sentence: what, where, what to do.
"""

from .look import Look, catalogue
from .renderer import Renderer
from .sampler import Sampler
from .tables import check, decode, encodings

__all__ = ["Look", "Renderer", "Sampler", "catalogue", "check", "decode", "encodings"]
