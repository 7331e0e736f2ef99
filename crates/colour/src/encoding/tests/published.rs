//! Codes that the makers and the standards print, and a library's values of their formulas.

use super::{CODE_TOLERANCE, assert_close, curve_of, decode, encode};
use crate::encoding::Curve;

const LIGHTS: [f64; 6] = [0.0, 0.01, 0.18, 0.90, 1.0, 4.0];

/// Codes of [`LIGHTS`], and the light of code 1.0, by colour-science 0.4.7.
#[rustfmt::skip]
const VALUES: [(Curve, [f64; 6], f64); 17] = [
    (Curve::LogC3, [0.092809000, 0.146485550, 0.391006832, 0.559431892, 0.570631558, 0.718701631], 55.079577),
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
            let tolerance = CODE_TOLERANCE * code.abs().max(1.0);
            let what = format!("{curve:?} at {light}");
            assert_close(&what, encode(curve, light), code, tolerance);
        }
    }
}

#[test]
fn codes_have_the_lights_of_the_reference() {
    for (curve, codes, full) in VALUES {
        for (light, code) in LIGHTS.into_iter().zip(codes) {
            // One unit in the last place of a code near 1 is up to 1e-6 of the light.
            let tolerance = 2e-6 * light + 5e-8;
            let what = format!("{curve:?} at code {code}");
            assert_close(&what, decode(curve, code), light, tolerance);
        }
        assert_close(
            &format!("{curve:?} at code 1"),
            decode(curve, 1.0),
            full,
            2e-6 * full,
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
    // IEC 61966-2-1, BT.1886 with black at 0, and BT.709's camera curve turned round.
    for (curve, code, light) in [
        (Curve::Srgb, 0.25, 0.050_876_088),
        (Curve::Srgb, 0.5, 0.214_041_140),
        (Curve::Srgb, 0.75, 0.522_521_554),
        (Curve::Bt1886, 0.5, 0.189_464_571),
        (Curve::Bt709Oetf, 0.5, 0.259_589_401),
    ] {
        assert_close(&format!("{curve:?}"), decode(curve, code), light, 3e-7);
    }
}
