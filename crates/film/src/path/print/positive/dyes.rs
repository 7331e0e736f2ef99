//! What three dyes let through, without spectra: a closed form fitted to the spectral integration.
//!
//! The spectra are in `spectral.rs`, beside the tests that hold this form against them. Told on a
//! basis `e = 0.9 rgb + 0.1 Y` of Rec.2020's primaries, where no mixture of the dyes is ever
//! without light, light is nearly `10^-D` of its own layer's density, and exactly so on greys:
//!
//! ```text
//! log10 e_i = -D_i + P_i(p, q, m),  p = D_r - D_g, q = D_b - D_g, m = D_g
//! ```
//!
//! `P_i` has the fourteen terms `p^a q^b m^c` up to the third degree with `a + b >= 1`, `c <= 1`.
//! Least squares over densities 0 to 4.4, likely ones counted more. CIEDE2000 against the
//! integration, densities that differ by 0.4 (one sigma): 0.25 on average, 1.8 at most.

use lookwright_colour::lane::Lane;
use lookwright_colour::space::{Cat, primaries, rgb_to_rgb};
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// Share of luminance in each of the basis' channels.
const PALER: f64 = 0.1;
/// Rec.2020's luminance weights (ITU-R BT.2020-2).
const WEIGHTS: [f64; 3] = [0.2627, 0.6780, 0.0593];
/// For each channel the terms q, qm, qq, qqm, qqq, p, pm, pq, pqm, pqq, pp, ppm, ppq, ppp.
#[rustfmt::skip]
const TERMS: [[f32; 14]; 3] = [
    [-0.021314, -0.001844, 0.015513, 0.006521, -0.006373, 0.250207, -0.006786, -0.028845, -0.003419, 0.017926, 0.068481, -0.012088, -0.009985, -0.002694],
    [-0.111726, -0.022201, 0.003335, 0.004656, 0.001064, -0.317847, -0.027715, -0.036629, -0.007355, 0.001839, 0.037432, 0.002077, 0.000272, -0.004078],
    [0.317605, -0.000327, 0.050184, 0.001520, 0.012126, -0.161309, -0.005538, -0.048185, -0.010885, -0.028224, 0.018978, 0.007391, 0.027669, -0.008562],
];

/// The dyes, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Dyes {
    to_ap1: PixelMatrix,
    darkest: f32,
    stretch: f32,
}

impl Dyes {
    /// `darkest` is the light that becomes none (black-point compensation); 0 for none.
    pub(super) fn new(darkest: f64) -> Self {
        let mut paler = Mat3::IDENTITY;
        for (i, row) in paler.0.iter_mut().enumerate() {
            for (j, cell) in row.iter_mut().enumerate() {
                let own = if i == j { 1.0 - PALER } else { 0.0 };
                *cell = own + PALER * WEIGHTS[j];
            }
        }
        let back = paler.inverse().unwrap_or(Mat3::IDENTITY);
        let to_ap1 = rgb_to_rgb(&primaries::BT2020, &primaries::AP1, Cat::Bradford);
        Self {
            to_ap1: to_ap1.after(&back).for_pixels(),
            darkest: darkest as f32,
            stretch: (1.0 / (1.0 - darkest)) as f32,
        }
    }

    /// Neutral densities of the three dyes, and grey density beside them, to display light (AP1,
    /// relative to the clear base).
    #[inline(always)]
    pub(super) fn light<L: Lane>(&self, density: Rgb<L>, grey: L) -> Rgb<L> {
        let Rgb { r, g, b } = density;
        self.to_ap1.apply(Rgb::new(
            self.channel(r, density, grey, &TERMS[0]),
            self.channel(g, density, grey, &TERMS[1]),
            self.channel(b, density, grey, &TERMS[2]),
        ))
    }

    #[inline(always)]
    fn channel<L: Lane>(&self, own: L, density: Rgb<L>, grey: L, c: &[f32; 14]) -> L {
        let m = density.g;
        let (p, q) = (density.r - m, density.b - m);
        let by_q = (q * c[4] + m * c[3] + c[2]) * q + m * c[1] + c[0];
        let by_p = (q * c[9] + m * c[8] + c[7]) * q + m * c[6] + c[5];
        let by_pp = p * c[13] + q * c[12] + m * c[11] + c[10];
        let others = by_q * q + (by_pp * p + by_p) * p;
        let light = (others - own - grey).exp10();
        (light - self.darkest) * self.stretch
    }
}
