//! Encodings: how code values stand for light.
//!
//! An encoding is a transfer curve, a set of primaries and the adaptation to the working white;
//! [`EncodingId`] lists all that pictures may come in, [`ScreenId`] those they may be shown in.
//!
//! - Linear values are relative scene light: 1.0 is a perfect white reflector, 0.18 mid-grey.
//! - Codes are fractions of full scale: a 10-bit code is divided by 1023, so 64 ..= 940 is not
//!   stretched. What a narrow-range file means is said in [`Range`].
//! - Every curve gives a finite number for every input: NaN counts as 0, and everything is
//!   limited to +-1e30 before the curve.
//! - At the break between two parts of a curve the published constants are kept, so value and
//!   slope step there by what the publications leave (at most 0.13 of a 10-bit code for N-Log and
//!   0.25 for BT.709, 0.1 for F-Log, 0.92 for L-Log, below 0.003 for all others).

mod curve;
mod curves;
mod range;
mod recorded;
mod registry;
mod scan;
mod screen;
mod signal;

pub use curve::{Curve, ExposureIndex};
pub use curves::film_scan;
pub use range::{Affine, Range, legal_limits};
pub use recorded::{Handing, Recorded};
pub use registry::{Encoding, EncodingClass, EncodingId};
pub use scan::ScanDensity;
pub use screen::{Screen, ScreenId};
pub use signal::{DIFFUSE_WHITE, Signal};

use crate::{Error, Result};

/// The entry of `all` with this name.
///
/// # Errors
/// If there is none; the sentence lists the names there are.
fn named<T: Copy>(what: &str, wanted: &str, all: &[T], name: fn(T) -> &'static str) -> Result<T> {
    let found = all.iter().copied().find(|&item| name(item) == wanted);
    found.ok_or_else(|| {
        let known: Vec<&str> = all.iter().map(|&item| name(item)).collect();
        Error::not_one_of(&format!("{what} \"{wanted}\""), wanted, &known)
    })
}

#[cfg(test)]
mod tests;
