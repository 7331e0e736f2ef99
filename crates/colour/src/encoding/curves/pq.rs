//! Perceptual quantisation, as scene light and as a screen's.
//!
//! A code is the light of a reference screen (SMPTE ST 2084), 10,000 cd/m2 at code 1. The scene's
//! light follows from it by the reference system's own rendering turned round (ITU-R BT.2100-2,
//! table 4): the screen is the power 2.4 of the camera curve of BT.709. Light 1.0 is a white
//! reflector at 203 cd/m2, code 0.58; then an 18 % card at 26 cd/m2 has code 0.38 (ITU-R BT.2408-7,
//! table 1). Code 1 is the end of the scale, light 32.5.
//! As a screen's light it is 1 there.

use super::{Oetf, TransferCurve};
use crate::lane::Lane;

const M1: f64 = 2610.0 / 16384.0;
const M2: f64 = 2523.0 / 4096.0 * 128.0;
const C1: f64 = 3424.0 / 4096.0;
const C2: f64 = 2413.0 / 4096.0 * 32.0;
const C3: f64 = 2392.0 / 4096.0 * 32.0;
const GAMMA: f64 = 2.4;
/// The camera's signal at code 1: `(10,000 / 100)^(1 / 2.4)`; a test repeats that.
const FULL_SIGNAL: f64 = 6.812_920_690_579_613;
/// Light of BT.709's camera curve at 203 cd/m2; a test repeats its formula.
const WHITE: f64 = 1.8291449467613425;

#[derive(Clone, Copy)]
pub(in super::super) struct Pq;

/// The screen's light by 10,000 cd/m2.
#[derive(Clone, Copy)]
pub(in super::super) struct PqLight;

/// The screen's light by 10,000 cd/m2, to the power of [`M1`].
#[inline(always)]
fn power_of<L: Lane>(code: L) -> L {
    let root = code.clamp_to(0.0, 1.0).pow((1.0 / M2) as f32);
    let above = (root - C1 as f32).max(code.of(0.0));
    above / (root * -C3 as f32 + C2 as f32)
}

/// The code of that.
#[inline(always)]
fn code_of<L: Lane>(power: L) -> L {
    let ratio = (power * C2 as f32 + C1 as f32) / (power * C3 as f32 + 1.0);
    ratio.pow(M2 as f32)
}

impl TransferCurve for Pq {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let signal = power_of(code).pow((1.0 / (M1 * GAMMA)) as f32) * FULL_SIGNAL as f32;
        Oetf::BT709.decode(signal) * (1.0 / WHITE) as f32
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let signal = Oetf::BT709.encode(lin * WHITE as f32);
        code_of((signal * (1.0 / FULL_SIGNAL) as f32).pow((M1 * GAMMA) as f32))
    }
}

impl TransferCurve for PqLight {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        power_of(code).pow((1.0 / M1) as f32)
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        code_of(lin.pow(M1 as f32))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn constants_follow_from_their_formulas() {
        assert!((FULL_SIGNAL - libm::pow(100.0, 1.0 / GAMMA)).abs() < 1e-14);
        let signal = libm::pow(2.03, 1.0 / GAMMA);
        let white = libm::pow((signal + 0.099) / 1.099, 1.0 / 0.45);
        assert!((WHITE - white).abs() < 1e-14, "{white:.17}");
    }
}
