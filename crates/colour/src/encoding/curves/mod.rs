//! The transfer curves, one file each: published constants and how they are used.

mod acescc;
pub(super) mod acescct;
pub(super) mod adx;
mod canon_log;
pub(super) mod dlog;
pub(super) mod film_5;
pub mod film_scan;
pub(super) mod flog;
pub(super) mod flog2;
pub(super) mod hlg;
mod lin_log;
pub(super) mod llog;
pub(super) mod log3g10;
mod log_line;
pub(super) mod logc3;
pub(super) mod logc4;
mod nlog;
mod oetf;
mod parabola_log;
mod power;
mod pq;
pub(super) mod slog2;
pub(super) mod slog3;
mod srgb;
pub(super) mod vlog;

pub(super) use acescc::AcesCc;
pub(super) use canon_log::{CanonLog3, Mirrored};
pub(super) use hlg::Hlg;
pub(super) use nlog::NLog;
pub(super) use oetf::Oetf;
pub(super) use parabola_log::ParabolaLog;
pub(super) use power::Power;
pub(super) use pq::{Pq, PqLight};
pub(super) use srgb::Srgb;

use lin_log::LinLog;
use log_line::LogLine;

use crate::lane::Lane;

/// A curve between code (fraction of full scale) and linear light. Inputs are finite and within
/// +-1e30; `Curve` sees to that.
pub(super) trait TransferCurve: Copy {
    /// Code to linear light.
    fn decode<L: Lane>(self, code: L) -> L;
    /// Linear light to code.
    fn encode<L: Lane>(self, lin: L) -> L;
}

/// Full scale of the 10-bit codes in which makers print their formulas.
const FULL_10_BIT: f64 = 1023.0;
