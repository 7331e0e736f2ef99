//! Codes that the makers and the standards print, and a library's values of their formulas.

use super::{assert_close, code_tolerance, curve_of, decode, encode, light_tolerance};
use crate::encoding::{Curve, ExposureIndex};

const LIGHTS: [f64; 6] = [0.0, 0.01, 0.18, 0.90, 1.0, 4.0];

/// Codes of [`LIGHTS`], and the light of code 1.0, by colour-science 0.4.7.
#[rustfmt::skip]
const VALUES: [(Curve, [f64; 6], f64); 27] = [
    (Curve::LogC3(ExposureIndex::Ei800), [0.092809000, 0.146485550, 0.391006832, 0.559431892, 0.570631558, 0.718701631], 55.079577),
    (Curve::LogC4, [0.092864125, 0.120829435, 0.278395837, 0.417959359, 0.427519365, 0.555135049], 469.800000),
    (Curve::SLog3, [0.092864125, 0.159083562, 0.410557185, 0.584452842, 0.596027344, 0.749098912], 38.420934),
    (Curve::VLog, [0.125000000, 0.180999689, 0.423311449, 0.588167438, 0.599117700, 0.743840586], 46.085528),
    (Curve::CanonLog2, [0.092864125, 0.163818042, 0.398254693, 0.562304265, 0.573229279, 0.717735807], 59.234502),
    (Curve::CanonLog3, [0.125122190, 0.147071966, 0.343389370, 0.564473583, 0.580277794, 0.794468704], 14.668301),
    (Curve::FLog2, [0.092864000, 0.158797484, 0.391007242, 0.557132364, 0.568219370, 0.714967701], 58.250874),
    (Curve::NLog, [0.124372628, 0.164961934, 0.363667770, 0.589634333, 0.605083089, 0.808352057], 14.780863),
    (Curve::Log3G10, [0.091551488, 0.137898710, 0.333332912, 0.483360528, 0.493448520, 0.627292998], 184.322348),
    (Curve::AppleLog, [0.150476452, 0.208555319, 0.488272459, 0.681686796, 0.694552983, 0.864675980], 12.000002),
    (Curve::DLog, [0.092900000, 0.152283809, 0.398764556, 0.572944426, 0.584555000, 0.738174962], 41.999393),
    (Curve::LogC3(ExposureIndex::Ei160), [0.092778000, 0.148685350, 0.391006568, 0.571898727, 0.584024503, 0.744746331], 35.663214),
    (Curve::LogC3(ExposureIndex::Ei1600), [0.092824000, 0.144457500, 0.391006591, 0.554089467, 0.564890536, 0.707512819], 68.051771),
    (Curve::SLog2, [0.088251292, 0.118823846, 0.339532525, 0.568950357, 0.585091060, 0.802566543], 13.758274),
    (Curve::CanonLog, [0.125122480, 0.146169091, 0.343389649, 0.599813949, 0.618775480, 0.879177766], 7.466318),
    (Curve::FLog, [0.092864000, 0.162030361, 0.459318459, 0.689503346, 0.704996409, 0.910618861], 7.281325),
    (Curve::MiLog, [0.147427429, 0.181913462, 0.453459669, 0.660867610, 0.674757806, 0.858811283], 11.520029),
    (Curve::LLog, [0.090000000, 0.165074843, 0.435313904, 0.619557106, 0.631797440, 0.793579940], 23.300931),
    (Curve::Film5, [0.092465753, 0.167755310, 0.383561644, 0.521383526, 0.530489625, 0.650641506], 222.860944),
    (Curve::Hlg, [0.000000000, 0.089156474, 0.378258883, 0.729193382, 0.750000000, 1.010640338], 3.774118),
    (Curve::Pq, [0.000000731, 0.090624020, 0.378961634, 0.567933861, 0.580688881, 0.750015057], 32.540250),
    (Curve::AcesCct, [0.072905534, 0.175578985, 0.413588402, 0.546118545, 0.554794521, 0.668949772], 222.860944),
    (Curve::AcesCc, [-0.358447489, 0.175578985, 0.413588402, 0.546118545, 0.554794521, 0.668949772], 222.860944),
    (Curve::FilmScan, [0.092864125, 0.175685948, 0.457319613, 0.656333307, 0.669599218, 0.845120807], 13.521695),
    (Curve::Srgb, [0.000000000, 0.099852823, 0.461356130, 0.954687172, 1.000000000, 1.824796295], 1.000000),
    (Curve::Bt709Oetf, [0.000000000, 0.045000000, 0.409007729, 0.949109896, 1.000000000, 1.951806515], 1.000000),
    (Curve::Bt1886, [0.000000000, 0.146779927, 0.489437090, 0.957049452, 1.000000000, 1.781797436], 1.000000),
];

#[test]
fn lights_have_the_codes_of_the_reference() {
    for (curve, codes, _) in VALUES {
        for (light, code) in LIGHTS.into_iter().zip(codes) {
            let tolerance = code_tolerance(curve) * code.abs().max(1.0);
            let what = format!("{curve:?} at {light}");
            assert_close(&what, encode(curve, light), code, tolerance);
        }
    }
}

#[test]
fn codes_have_the_lights_of_the_reference() {
    for (curve, codes, full) in VALUES {
        for (light, code) in LIGHTS.into_iter().zip(codes) {
            let tolerance = light_tolerance(curve) * light + 5e-8;
            let what = format!("{curve:?} at code {code}");
            assert_close(&what, decode(curve, code), light, tolerance);
        }
        assert_close(
            &format!("{curve:?} at code 1"),
            decode(curve, 1.0),
            full,
            light_tolerance(curve) * full,
        );
    }
}

#[test]
fn makers_tables_of_10_bit_codes_are_met() {
    // Whole codes as printed for 0 %, 18 % and 90 %: Sony's technical summary (95, 420, 598),
    // Panasonic's manual (128, 433, 602); mid-grey of LogC3 is code 400 of 1023 (ARRI), of
    // F-Log2 400 (Fujifilm), of Log3G10 a third of the scale (RED).
    let code_10_bit = |id, light| (encode(curve_of(id), light) * 1023.0).round();
    let table = |id| [0.0, 0.18, 0.90].map(|light| code_10_bit(id, light));
    assert_eq!(table("slog3-sgamut3"), [95.0, 420.0, 598.0]);
    assert_eq!(table("vlog"), [128.0, 433.0, 602.0]);
    assert_eq!(code_10_bit("logc3", 0.18), 400.0);
    assert_eq!(code_10_bit("flog2", 0.18), 400.0);
    assert_eq!(code_10_bit("log3g10", 0.18), 341.0);
    assert_eq!(code_10_bit("logc4", 0.0), 95.0);
    assert_eq!(code_10_bit("clog2", 0.0), 95.0);
    assert_eq!(code_10_bit("clog3", 0.0), 128.0);
}

#[test]
fn makers_tables_of_signal_percentages_are_met() {
    // Percent of the legal range: S-Log3 4, 41, 61 (Sony), V-Log 7.3, 42, 61 (Panasonic).
    let percent = |id, light| (encode(curve_of(id), light) * 1023.0 - 64.0) / 876.0 * 100.0;
    for (id, light, printed, rounding) in [
        ("slog3-sgamut3", 0.0, 4.0, 0.5),
        ("slog3-sgamut3", 0.18, 41.0, 0.5),
        ("slog3-sgamut3", 0.90, 61.0, 0.5),
        ("vlog", 0.0, 7.3, 0.05),
        ("vlog", 0.18, 42.0, 0.5),
        ("vlog", 0.90, 61.0, 0.5),
    ] {
        assert_close(id, percent(id, light), printed, rounding);
    }
}

#[test]
fn screens_show_the_light_of_their_standards() {
    // IEC 61966-2-1, BT.1886 with black at 0, RP 431-2, and BT.709's camera curve turned round.
    for (curve, code, light) in [
        (Curve::Srgb, 0.25, 0.050_876_088),
        (Curve::Srgb, 0.5, 0.214_041_140),
        (Curve::Srgb, 0.75, 0.522_521_554),
        (Curve::Bt1886, 0.5, 0.189_464_571),
        (Curve::Gamma26, 0.5, 0.164_938_489),
        (Curve::Bt709Oetf, 0.5, 0.259_589_401),
    ] {
        assert_close(&format!("{curve:?}"), decode(curve, code), light, 3e-7);
    }
}

/// ITU-R BT.2408-7, table 1: the codes of a grey card of 18 % and of a white reflector, in HLG and in
/// PQ, to the whole percent that it prints. BT.2100-2: HLG ends at twelve times the light of code 0.5.
#[test]
fn hdr_codes_are_those_of_the_operational_practice() {
    for (id, light, percent) in [
        ("hlg", 0.18, 38.0),
        ("hlg", 1.0, 75.0),
        ("pq", 0.18, 38.0),
        ("pq", 1.0, 58.0),
    ] {
        let code = encode(curve_of(id), light);
        assert_eq!((code * 100.0).round(), percent, "{id} at {light}: {code}");
    }
    let ratio = decode(Curve::Hlg, 1.0) / decode(Curve::Hlg, 0.5);
    assert_close("HLG's span", ratio, 12.0, 2e-5);
}
