//! Encodings against published values, and at their edges.

mod chains;
mod edges;
mod film_scan;
mod published;
mod ranges;
mod registry;
mod round_trip;

use crate::encoding::{Curve, EncodingId};

/// Code error in single precision, relative to max(1, |code|).
const CODE_TOLERANCE: f64 = 2e-7;

/// `code` of `curve` for this light, in double precision for comparing.
fn encode(curve: Curve, light: f64) -> f64 {
    f64::from(curve.encode(light as f32))
}

/// Light of `curve` at this code, in double precision for comparing.
fn decode(curve: Curve, code: f64) -> f64 {
    f64::from(curve.decode(code as f32))
}

fn curve_of(id: &str) -> Curve {
    EncodingId::parse(id).unwrap().info().curve
}

fn assert_close(what: &str, ours: f64, theirs: f64, tolerance: f64) {
    let error = (ours - theirs).abs();
    assert!(
        error <= tolerance,
        "{what}: {ours} for {theirs}, off by {error:e}"
    );
}
