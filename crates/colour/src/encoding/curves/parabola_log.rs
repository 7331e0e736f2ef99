//! A parabola near black and a logarithm above it: Apple Log and Mi-Log.
//!
//! `gamma log2(x + beta) + delta` from the break on, the parabola `sigma (x - end)^2` down to its
//! end, which lies below black, and 0 below that.
//!
//! Sources: Apple, Apple Log Profile white paper, 2023 (Apple Log 2 has the same curve); Xiaomi,
//! Mi-Log Profile white paper, 2024.

use super::{LogLine, TransferCurve};
use crate::lane::Lane;

#[derive(Clone, Copy)]
pub(in super::super) struct ParabolaLog {
    log: LogLine,
    sigma: f32,
    per_sigma: f32,
    /// How far below black the parabola ends.
    shift: f32,
    lin_cut: f32,
    code_cut: f32,
}

impl ParabolaLog {
    pub(in super::super) const APPLE: Self = Self::new(
        [0.00964052, 0.08550479, 0.69336945],
        47.28711236,
        0.05641088,
        0.01,
    );
    pub(in super::super) const MI: Self = Self::new(
        [0.01384578, 0.09271529, 0.67291850],
        18.10531998,
        0.09023729,
        0.01974185,
    );

    const fn new([beta, gamma, delta]: [f64; 3], sigma: f64, shift: f64, cut: f64) -> Self {
        Self {
            log: LogLine::base_2(1.0, beta, gamma, delta),
            sigma: sigma as f32,
            per_sigma: (1.0 / sigma) as f32,
            shift: shift as f32,
            lin_cut: cut as f32,
            code_cut: (sigma * (cut + shift) * (cut + shift)) as f32,
        }
    }
}

impl TransferCurve for ParabolaLog {
    #[inline(always)]
    fn decode<L: Lane>(self, code: L) -> L {
        let root = (code.max(code.of(0.0)) * self.per_sigma).sqrt();
        code.below(self.code_cut, root - self.shift, self.log.decode(code))
    }

    #[inline(always)]
    fn encode<L: Lane>(self, lin: L) -> L {
        let above_end = (lin + self.shift).max(lin.of(0.0));
        let parabola = above_end * above_end * self.sigma;
        lin.below(self.lin_cut, parabola, self.log.encode(lin))
    }
}
