//! LogC3, in terms of scene reflectance.
//!
//! `c log10(a x + b) + d` above the cut, `e x + f` below; every exposure index has constants of its
//! own but for `a`. Source: ARRI, Log C Curve - Usage in VFX, 2012 (SUP 3.x, linear scene exposure
//! factor).

use super::{LinLog, LogLine};

/// The exposure index that a camera was set to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each name is the number that it stands for")]
pub enum ExposureIndex {
    Ei160,
    Ei200,
    Ei250,
    Ei320,
    Ei400,
    Ei500,
    Ei640,
    Ei800,
    Ei1000,
    Ei1280,
    Ei1600,
}

/// Cut, `b`, `c`, `d`, `e`, `f` as printed.
const PRINTED: [[f64; 6]; 11] = [
    [0.005561, 0.080216, 0.269036, 0.381991, 5.842037, 0.092778],
    [0.006208, 0.076621, 0.266007, 0.382478, 5.776265, 0.092782],
    [0.006871, 0.072941, 0.262978, 0.382966, 5.710494, 0.092786],
    [0.007622, 0.068768, 0.259627, 0.383508, 5.637732, 0.092791],
    [0.008318, 0.064901, 0.256598, 0.383999, 5.571960, 0.092795],
    [0.009031, 0.060939, 0.253569, 0.384493, 5.506188, 0.092800],
    [0.009840, 0.056443, 0.250219, 0.385040, 5.433426, 0.092805],
    [0.010591, 0.052272, 0.247190, 0.385537, 5.367655, 0.092809],
    [0.011361, 0.047996, 0.244161, 0.386036, 5.301883, 0.092814],
    [0.012235, 0.043137, 0.240810, 0.386590, 5.229121, 0.092819],
    [0.013047, 0.038625, 0.237781, 0.387093, 5.163350, 0.092824],
];

const fn curve([cut, b, c, d, e, f]: [f64; 6]) -> LinLog {
    LinLog::new(
        LogLine::base_10(5.555556, b, c, d),
        [e, f],
        cut,
        e * cut + f,
    )
}

const CURVES: [LinLog; 11] = {
    let mut curves = [curve(PRINTED[0]); 11];
    let mut index = 0;
    while index < PRINTED.len() {
        curves[index] = curve(PRINTED[index]);
        index += 1;
    }
    curves
};

/// The curve of this exposure index.
#[inline(always)]
pub(in super::super) const fn at(index: ExposureIndex) -> LinLog {
    CURVES[index as usize]
}
