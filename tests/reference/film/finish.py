"""The negative's curve, the scan's code and the straight finish, as the Rust core has them; for the fits only."""

import colour
import numpy as np
import spectra as sp

GREY_CODE, BASE_CODE, DENSITY_PER_CODE = 475.309, 95.0, 0.002
# chosen: a direction of more separation, and how much of it the reference film has
SEPARATION = np.array([[0.25, -0.13, -0.12], [-0.10, 0.22, -0.12], [-0.08, -0.17, 0.25]])
SEPARATION_MIDDLE = 1.5
# chosen: the finish works on recorded light up to this code; above, the line leads a layer so far over the curve
STRAIGHT_TO, OVER, OVER_SOFTNESS, LEAST_TOE, TOE_BEND = 540.0, 0.19, 0.6, 0.13, 0.5


class Film:
    """Colour film: what follows from its balance and speed, as `path/negative/stock.rs` has it, and its curve."""

    def __init__(self, balance="day", iso=sp.SPEED_MIDDLE):
        off = sp.share_of_speed(iso) - sp.share_of_speed(sp.SPEED_MIDDLE)
        lamp = float(balance == "lamp")
        gamma = 0.60 - 0.12 * off - 0.035 * lamp
        self.toe, self.shoulder, self.span = 0.30 + 0.24 * off + 0.08 * lamp, 0.65 + 0.20 * off, 3.45 + 0.30 * off
        self.couplers = np.eye(3) + (SEPARATION_MIDDLE - 1.7 * off - 0.72 * lamp) * SEPARATION
        # gamma is the mean slope from grey to 90 % white
        low, high = 0.0, 3.0
        for _ in range(60):
            self.u = (low + high) / 2
            self.scale = gamma * np.log10(5) / (self.shaped(self.u + np.log10(5)) - self.shaped(self.u))
            below = self.scale * self.shaped(self.u) < (GREY_CODE - BASE_CODE) * DENSITY_PER_CODE
            low, high = (self.u, high) if below else (low, self.u)

    def toed(self, u):
        return (u + np.sqrt(u * u + self.toe**2)) / 2

    def shaped(self, u):
        shouldered = lambda t: self.span - ((self.span - t) + np.sqrt((self.span - t) ** 2 + self.shoulder**2)) / 2
        return shouldered(self.toed(u)) - shouldered(0.0)

    def codes(self, exposure, dyes):
        """Layer exposure to the scan's codes of printing density, in the film's own light."""
        return BASE_CODE + self.density(exposure) @ self.couplers.T @ dyes.T / DENSITY_PER_CODE

    def density(self, exposure):
        """Layer exposure (1 on white) to the layer's density above base, before couplers."""
        return self.scale * self.shaped(np.log10(np.maximum(exposure, 1e-9) / 0.18) + self.u)


def contrast(code):
    """The contrast step's curve at its defaults: code of 1023 to display code of 1."""
    slope, pivot, drop, roll, toe, shoulder = 1.93, 475 / 1023, 0.1, 0.3, 0.4, 0.2
    excess = 1 - 1 / slope
    floor = (1 - drop) * excess * BASE_CODE / 1023
    bend = lambda asked, least: asked + (1 - asked) * 0.3 * least
    toe_room, roll_room = (pivot - floor) * 0.95 * bend(toe, max(excess, drop)), (1 - pivot) * 0.9 * bend(roll, excess)
    y = pivot + slope * (code / 1023 - pivot)
    y = y - 0.12 * drop * (np.maximum(pivot - y, 0) / pivot) ** 2

    def bent(t, softness):
        t = np.maximum(t, 0)
        return (1 - softness) * t / np.sqrt(1 + t * t) + softness * t / (1 + t)

    start, end = floor + toe_room, 1 - roll_room
    high = np.where(y > end, end + roll_room * bent((y - end) / roll_room, shoulder), y)
    return np.where(y < start, start - toe_room * bent((start - y) / toe_room, toe**2), high)


class Straight:
    """Printing-density code to display code (BT.709, gamma 2.4), which may leave 0 ... 1, in a film's own light."""

    def __init__(self, film):
        self.toe = film.toe
        self.per_density = film.toed(film.u) / ((GREY_CODE - BASE_CODE) * DENSITY_PER_CODE)
        p = STRAIGHT_TO
        self.u_end, self.y_end = self.recorded(p), contrast(np.array(p))
        rise = (contrast(np.array(p + 0.5)) - contrast(np.array(p - 0.5))) / (self.recorded(p + 0.5) - self.recorded(p - 0.5))
        self.slope = rise / self.y_end

    def recorded(self, code):
        least = self.toe * LEAST_TOE
        over = (code - BASE_CODE) * DENSITY_PER_CODE * self.per_density - least
        t = (over + np.sqrt(over**2 + (least * TOE_BEND) ** 2)) / 2 + least
        return t - self.toe**2 / 4 / t

    def shape(self, code):
        line = self.y_end * np.exp(self.slope * (self.recorded(code) - self.u_end))
        t = (line - contrast(code)) / OVER
        over = (1 - OVER_SOFTNESS) * t / np.sqrt(1 + t * t) + OVER_SOFTNESS * t / (1 + np.abs(t))
        return np.where(code < STRAIGHT_TO, line, contrast(code) + OVER * over)

    def show(self, code, unmix, mix):
        c = BASE_CODE + (code - BASE_CODE) @ unmix.T
        y = self.shape(c)
        norm = (y**2 * c).sum(-1) / (y**2).sum(-1)
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
