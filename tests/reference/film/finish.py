"""The negative's curve, the scan's code and the straight finish, as the Rust core has them; for the fits only."""

import colour
import numpy as np
import spectra as sp

GREY_CODE, BASE_CODE, DENSITY_PER_CODE = 475.309, 95.0, 0.002
SPAN, SHOULDER = 3.45, 0.65
REFERENCE_GAMMA, REFERENCE_TOE = 0.60, 0.30
# chosen: a direction of more separation, and how much of it the reference film has
SEPARATION = np.array([[0.25, -0.13, -0.12], [-0.10, 0.22, -0.12], [-0.08, -0.17, 0.25]])
SEPARATION_MIDDLE = 1.5
# chosen: the finish works on recorded light up to this code, on the curve above
STRAIGHT_TO, WEIGHT_POWER, LEAST_TOE, TOE_BEND = 540.0, 4, 0.039, 0.0195


def offset_and_scale(gamma, toe):
    """(u of grey, density per shaped log exposure): gamma is the mean slope from grey to 90 % white."""
    low, high = 0.0, 3.0
    for _ in range(60):
        u = (low + high) / 2
        scale = gamma * np.log10(5) / (shaped(u + np.log10(5), toe) - shaped(u, toe))
        low, high = (u, high) if scale * shaped(u, toe) < (GREY_CODE - BASE_CODE) * DENSITY_PER_CODE else (low, u)
    return u, scale


def shaped(u, toe):
    shoulder = lambda t: SPAN - ((SPAN - t) + np.sqrt((SPAN - t) ** 2 + SHOULDER**2)) / 2
    return shoulder((u + np.sqrt(u * u + toe * toe)) / 2) - shoulder(0.0)


def density(exposure, gamma=REFERENCE_GAMMA, toe=REFERENCE_TOE):
    """Layer exposure (1 on white) to density above base."""
    u, scale = offset_and_scale(gamma, toe)
    return scale * shaped(np.log10(np.maximum(exposure, 1e-9) / 0.18) + u, toe)


def contrast(code):
    """The contrast step's curve at its defaults: code of 1023 to display code of 1."""
    slope, pivot, drop, roll, toe = 1.68, 512 / 1023, 0.25, 0.45, 0.6
    x = code / 1023
    excess = 1 - 1 / slope
    floor = (1 - drop) * excess * 95 / 1023
    bend = lambda asked, least: asked + (1 - asked) * 0.3 * least
    toe_room, roll_room = (pivot - floor) * 0.6 * bend(toe, max(excess, drop)), (1 - pivot) * 0.9 * bend(roll, excess)
    y = pivot + slope * (x - pivot)
    y = y - 0.12 * drop * (np.maximum(pivot - y, 0) / pivot) ** 2
    f = lambda t: t / np.sqrt(1 + t * t)
    start, end = floor + toe_room, 1 - roll_room
    return np.where(
        y < start, start - toe_room * f((start - y) / toe_room), np.where(y > end, end + roll_room * f((y - end) / roll_room), y)
    )


class Straight:
    """Printing-density code to display code (BT.709, gamma 2.4), which may leave 0 ... 1."""

    def __init__(self):
        u, scale = offset_and_scale(REFERENCE_GAMMA, REFERENCE_TOE)
        t = (u + np.sqrt(u * u + REFERENCE_TOE**2)) / 2
        self.per_density = t / ((GREY_CODE - BASE_CODE) * DENSITY_PER_CODE)
        p = STRAIGHT_TO
        self.u_end, self.y_end = self.recorded(p), contrast(np.array(p))
        rise = (contrast(np.array(p + 0.5)) - contrast(np.array(p - 0.5))) / (self.recorded(p + 0.5) - self.recorded(p - 0.5))
        self.slope = rise / self.y_end

    def recorded(self, code):
        over = (code - BASE_CODE) * DENSITY_PER_CODE * self.per_density - LEAST_TOE
        t = (over + np.sqrt(over**2 + TOE_BEND**2)) / 2 + LEAST_TOE
        return t - REFERENCE_TOE**2 / 4 / t

    def shape(self, code):
        low = self.y_end * np.exp(self.slope * (self.recorded(np.minimum(code, STRAIGHT_TO)) - self.u_end))
        return np.where(code < STRAIGHT_TO, low, contrast(np.maximum(code, STRAIGHT_TO)))

    def show(self, code, unmix, mix):
        c = BASE_CODE + (code - BASE_CODE) @ unmix.T
        y = self.shape(c)
        w = y**WEIGHT_POWER
        norm = (w * c).sum(-1) / w.sum(-1)
        return (y @ mix.T) * (contrast(norm) / self.shape(norm))[..., None]


RGB709 = colour.RGB_COLOURSPACES["ITU-R BT.709"]
AP1_TO_709 = colour.matrix_RGB_to_RGB("ACEScg", "ITU-R BT.709")


def light_of(code):
    return np.sign(code) * np.abs(code) ** 2.4


def oklab(light):
    """(lightness, chroma, hue in degrees) of linear BT.709."""
    o = colour.XYZ_to_Oklab(light @ RGB709.matrix_RGB_to_XYZ.T)
    return o[..., 0], np.hypot(o[..., 1], o[..., 2]), np.degrees(np.arctan2(o[..., 2], o[..., 1]))


def turn(a, b):
    return (a - b + 180) % 360 - 180


def rows(v):
    """A matrix whose rows sum to 1 from its six values off the diagonal."""
    v = np.reshape(v, (3, 2))
    return np.array([[1 - v[0].sum(), *v[0]], [v[1, 0], 1 - v[1].sum(), v[1, 1]], [*v[2], 1 - v[2].sum()]])
