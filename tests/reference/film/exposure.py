"""The closed form of layer exposure, and its fit to spectral integration.

`X = B rgb`, `s = max(mean X, max X / 20)`, `f = floored(X / s)` with
`floored(x) = (x + sqrt(x^2 + 4 c^2)) / (1 + sqrt(1 + 4 c^2))`, `a = log2(f0 / f1)`, `b = log2(f2 / f1)`,
`E = s f1 2^P(a, b)`, `P` a polynomial of degree 6 without constant: exact on greys, scales with light.
The basis `B` and the floors `c` were found by random search over the fit's error and folds.
"""

import numpy as np
import spectra as sp

DEGREE = 6
BASIS = np.array([[1.22, -0.4316, 0.2116], [-0.1847, 1.5067, -0.322], [-0.0107, 0.0078, 1.0029]])
FLOORS = np.array([0.2175, 0.13, 0.0158])
LEAST_FORM, STOPS_LOW, STOPS_HIGH = np.array([-2.0, -1.8, -0.1]), -20.0, 3.0
POWERS = [(i, j) for i in range(DEGREE + 1) for j in range(DEGREE + 1 - i) if i + j]
# Weights of the fit: measured reflectances and lamps count more than the family of smooth spectra.
W_MEASURED, W_LED, W_BEYOND, RIDGE = 16.0, 4.0, 0.5, 1e-3
BEYOND = (1.1, 1.25)  # lights beyond the locus are fitted as the locus itself


def forms(ap1, least=-np.inf):
    """AP1 to (s, f), each positive, 1 on grey of 1."""
    basis = BASIS / BASIS.sum(1, keepdims=True)
    x = ap1 @ basis.T
    s = np.maximum(x.mean(-1, keepdims=True), 0.05 * x.max(-1, keepdims=True) + 1e-7)
    x = np.maximum(x / s, least)
    return s, (x + np.sqrt(x * x + 4 * FLOORS**2)) / (1 + np.sqrt(1 + 4 * FLOORS**2))


def terms(f):
    a, b = np.log2(f[..., 0] / f[..., 1]), np.log2(f[..., 2] / f[..., 1])
    return np.stack([a**i * b**j for i, j in POWERS], -1)


def closed(ap1, coefficients):
    """Layer exposures by the closed form, 1 on grey of 1."""
    s, f = forms(ap1, LEAST_FORM)
    return s * np.exp2(np.clip(terms(f) @ coefficients + np.log2(f[..., 1:2]), STOPS_LOW, STOPS_HIGH))


class Training:
    """Spectra under a light: 99 measured reflectances and half as pale ones; a smooth family from pastel to
    single lines and their complements, mixed with white; narrow bands, and these again from beyond the locus."""

    def __init__(self, illuminant):
        self.to_ap1 = sp.to_ap1(illuminant)
        centres = np.arange(440, 661, 8.0)
        family = [sp.bump(c, w) for c in centres for w in (10, 20, 35, 60, 100, 160)]
        family += [1 - 0.995 * sp.bump(c, w) for c in np.arange(470, 620, 10.0) for w in (35, 60, 100, 160)]
        family = np.array(family)
        family /= (family @ self.to_ap1).max(1, keepdims=True)
        family = np.concatenate([family] + [family * (1 - t) + t for t in (0.01, 0.03, 0.1, 0.3, 0.6)])
        pale = 0.5 * sp.MEASURED + 0.5 * sp.MEASURED.mean(1, keepdims=True)
        self.leds = sp.leds(illuminant)
        self.spectra = np.concatenate([family, sp.MEASURED, pale, self.leds])
        n = len(sp.MEASURED)
        self.weights = np.repeat([1.0, W_MEASURED, W_MEASURED, W_LED], [len(family), n, n, len(self.leds)])

    def fit(self, layers):
        """Coefficients (terms, layers) by least squares of log exposure."""
        s, f = forms(self.spectra @ self.to_ap1)
        y = np.log2(self.spectra @ layers.T) - np.log2(s * f[:, 1:2])
        w = self.weights
        bands = self.leds @ self.to_ap1
        grey = bands.mean(1, keepdims=True)
        for times in BEYOND:
            far = forms(grey + (bands - grey) * times)[1]
            f, y = np.concatenate([f, far]), np.concatenate([y, y[len(self.spectra) - len(bands) : len(self.spectra)]])
            w = np.r_[w, np.full(len(far), W_BEYOND)]
        x = terms(f) * w[:, None]
        return np.linalg.solve(x.T @ x + RIDGE * np.eye(x.shape[1]), x.T @ (y * w[:, None]))
