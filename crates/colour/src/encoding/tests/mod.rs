//! Encodings against published values, and at their edges.

mod chains;
mod edges;
mod film_scan;
mod published;
mod ranges;
mod registry;
mod round_trip;
mod signals;

use crate::encoding::{Curve, EncodingId};

/// Code error in single precision, relative to max(1, |code|). PQ takes a power of 79, which magnifies
/// the rounding of what it is taken of.
fn code_tolerance(curve: Curve) -> f64 {
    if is_pq(curve) { 1.2e-5 } else { 2e-7 }
}

/// Light error in single precision, relative to the light: one unit in the last place of a code near 1
/// is up to 1e-6 of the light; of PQ's, for the same reason, more.
fn light_tolerance(curve: Curve) -> f64 {
    if is_pq(curve) { 3e-5 } else { 2e-6 }
}

fn is_pq(curve: Curve) -> bool {
    matches!(curve, Curve::Pq | Curve::PqLight)
}

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
