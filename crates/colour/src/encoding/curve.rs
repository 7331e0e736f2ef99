//! All transfer curves under one name.

pub use super::curves::logc3::ExposureIndex;
use super::curves::{
    AcesCc, CanonLog3, Hlg, Mirrored, NLog, Oetf, ParabolaLog, Power, Pq, PqLight, Srgb,
    TransferCurve, acescct, adx, dlog, film_5, film_scan, flog, flog2, llog, log3g10, logc3, logc4,
    slog2, slog3, vlog,
};
use crate::lane::Lane;

/// A transfer curve between code (fraction of full scale) and linear light.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Curve {
    /// The code is the light.
    Linear,
    /// LogC3 at an exposure index.
    LogC3(ExposureIndex),
    /// LogC4.
    LogC4,
    /// S-Log2.
    SLog2,
    /// S-Log3.
    SLog3,
    /// V-Log.
    VLog,
    /// Canon Log, in its form of 2020.
    CanonLog,
    /// Canon Log 2, in its form of 2020.
    CanonLog2,
    /// Canon Log 3, in its form of 2020.
    CanonLog3,
    /// F-Log.
    FLog,
    /// F-Log2.
    FLog2,
    /// N-Log.
    NLog,
    /// Log3G10, version 3.
    Log3G10,
    /// Apple Log.
    AppleLog,
    /// Mi-Log.
    MiLog,
    /// D-Log.
    DLog,
    /// L-Log.
    LLog,
    /// Blackmagic Film Generation 5.
    Film5,
    /// ACEScct.
    AcesCct,
    /// ACEScc.
    AcesCc,
    /// Hybrid log-gamma, read as scene light.
    Hlg,
    /// Perceptual quantisation, read as scene light.
    Pq,
    /// Perceptual quantisation, a screen's light: 1 is 10,000 cd/m2.
    PqLight,
    /// 10-bit film-scan log, black (code 95) at 0.
    FilmScan,
    /// 10-bit film-scan log without the offset, black (code 95) at 0.0108.
    FilmScanPlain,
    /// ADX10, channels unmixed.
    Adx10,
    /// ADX16, channels unmixed.
    Adx16,
    /// sRGB and Display P3.
    Srgb,
    /// BT.1886 with black at 0: power 2.4.
    Bt1886,
    /// Theatres (SMPTE RP 431-2): power 2.6.
    Gamma26,
    /// The camera curve of BT.709.
    Bt709Oetf,
    /// The camera curve of BT.2020 with its exact constants.
    Bt2020Oetf,
}

/// What a curve is limited to before it is evaluated, so that no product leaves `f32`.
const LIMIT: f32 = 1e30;

/// NaN as 0 and infinities as the limit.
#[inline(always)]
fn defined<L: Lane>(value: L) -> L {
    L::select(value.le(value), value, value.of(0.0)).clamp_to(-LIMIT, LIMIT)
}

/// Runs a method of the curve that `self` names.
macro_rules! on_curve {
    ($curve:expr, $method:ident, $value:expr) => {{
        let value = defined($value);
        match $curve {
            Curve::Linear => value,
            Curve::LogC3(index) => logc3::at(index).$method(value),
            Curve::LogC4 => logc4::CURVE.$method(value),
            Curve::SLog2 => slog2::CURVE.$method(value),
            Curve::SLog3 => slog3::CURVE.$method(value),
            Curve::VLog => vlog::CURVE.$method(value),
            Curve::CanonLog => Mirrored::LOG.$method(value),
            Curve::CanonLog2 => Mirrored::LOG_2.$method(value),
            Curve::CanonLog3 => CanonLog3.$method(value),
            Curve::FLog => flog::CURVE.$method(value),
            Curve::FLog2 => flog2::CURVE.$method(value),
            Curve::NLog => NLog.$method(value),
            Curve::Log3G10 => log3g10::CURVE.$method(value),
            Curve::AppleLog => ParabolaLog::APPLE.$method(value),
            Curve::MiLog => ParabolaLog::MI.$method(value),
            Curve::DLog => dlog::CURVE.$method(value),
            Curve::LLog => llog::CURVE.$method(value),
            Curve::Film5 => film_5::CURVE.$method(value),
            Curve::AcesCct => acescct::CURVE.$method(value),
            Curve::AcesCc => AcesCc.$method(value),
            Curve::Hlg => Hlg.$method(value),
            Curve::Pq => Pq.$method(value),
            Curve::PqLight => PqLight.$method(value),
            Curve::FilmScan => film_scan::OFFSET_FORM.$method(value),
            Curve::FilmScanPlain => film_scan::PLAIN_FORM.$method(value),
            Curve::Adx10 => adx::CURVE_10.$method(value),
            Curve::Adx16 => adx::CURVE_16.$method(value),
            Curve::Srgb => Srgb.$method(value),
            Curve::Bt1886 => Power::BT1886.$method(value),
            Curve::Gamma26 => Power::THEATRE.$method(value),
            Curve::Bt709Oetf => Oetf::BT709.$method(value),
            Curve::Bt2020Oetf => Oetf::BT2020.$method(value),
        }
    }};
}

impl Curve {
    /// Every curve.
    pub const ALL: [Self; 42] = [
        Self::Linear,
        Self::LogC3(ExposureIndex::Ei160),
        Self::LogC3(ExposureIndex::Ei200),
        Self::LogC3(ExposureIndex::Ei250),
        Self::LogC3(ExposureIndex::Ei320),
        Self::LogC3(ExposureIndex::Ei400),
        Self::LogC3(ExposureIndex::Ei500),
        Self::LogC3(ExposureIndex::Ei640),
        Self::LogC3(ExposureIndex::Ei800),
        Self::LogC3(ExposureIndex::Ei1000),
        Self::LogC3(ExposureIndex::Ei1280),
        Self::LogC3(ExposureIndex::Ei1600),
        Self::LogC4,
        Self::SLog2,
        Self::SLog3,
        Self::VLog,
        Self::CanonLog,
        Self::CanonLog2,
        Self::CanonLog3,
        Self::FLog,
        Self::FLog2,
        Self::NLog,
        Self::Log3G10,
        Self::AppleLog,
        Self::MiLog,
        Self::DLog,
        Self::LLog,
        Self::Film5,
        Self::AcesCct,
        Self::AcesCc,
        Self::Hlg,
        Self::Pq,
        Self::PqLight,
        Self::FilmScan,
        Self::FilmScanPlain,
        Self::Adx10,
        Self::Adx16,
        Self::Srgb,
        Self::Bt1886,
        Self::Gamma26,
        Self::Bt709Oetf,
        Self::Bt2020Oetf,
    ];

    /// Code (fraction of full scale) to linear light. Finite for every input, NaN counts as 0.
    #[inline(always)]
    pub fn decode<L: Lane>(self, code: L) -> L {
        code.apart(
            #[inline(always)]
            || on_curve!(self, decode, code),
        )
    }

    /// Linear light to code (fraction of full scale). Finite for every input, NaN counts as 0.
    #[inline(always)]
    pub fn encode<L: Lane>(self, lin: L) -> L {
        lin.apart(
            #[inline(always)]
            || on_curve!(self, encode, lin),
        )
    }
}
