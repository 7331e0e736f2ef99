//! The film-scan code's anchors in light and density.

use super::{assert_close, decode, encode};
use crate::encoding::{Curve, EncodingId, film_scan};

#[test]
fn codes_have_the_light_of_both_forms() {
    // Kodak 1993 and 1995, evaluated by colour-science 0.4.7 (offset form) and by hand (plain).
    for (code, light) in [
        (95.0, 0.0),
        (445.0, 0.149303712),
        (470.0, 0.183194531),
        (685.0, 1.0),
        (1023.0, 13.521694569),
    ] {
        let ours = decode(Curve::FilmScan, code / 1023.0);
        assert_close(&format!("code {code}"), ours, light, 2e-6 * light + 1e-8);
    }
    for (code, light) in [
        (95.0, 0.010797752),
        (445.0, 0.158489319),
        (470.0, 0.192014194),
        (685.0, 1.0),
    ] {
        let ours = decode(Curve::FilmScanPlain, code / 1023.0);
        assert_close(&format!("code {code}, plain"), ours, light, 2e-6 * light);
    }
}

#[test]
fn one_stop_is_ninety_codes() {
    // 300 log10(2) = 90.308999 codes of 1023.
    let one = f64::from(Curve::FilmScanPlain.encode(1.0_f32));
    let two = f64::from(Curve::FilmScanPlain.encode(2.0_f32));
    assert_close("a stop", (two - one) * 1023.0, 90.308999, 2e-4);
}

#[test]
fn the_laboratory_aim_lies_at_its_densities() {
    // Kodak H-387: code 445 is a printing density of 0.890; above the base at code 95, 0.700.
    let code = 445.0 / film_scan::FULL_SCALE;
    let above_base = film_scan::density_from_code(code as f32);
    assert_close("density", f64::from(above_base), 0.700, 2e-7);
    let with_base = f64::from(above_base) + film_scan::BASE_CODE * film_scan::DENSITY_PER_CODE;
    assert_close("density with base", with_base, 0.890, 2e-7);
    let back = film_scan::code_from_density(above_base);
    assert_close("code", f64::from(back), code, 6e-8);
}

#[test]
fn the_density_encoding_has_its_published_lights() {
    // The Academy's transform from ADX10, from an aim of 0.18 down to the base and up to full scale.
    for (code, aces) in [
        (95.0, 0.001_301_27),
        (180.0, 0.013_962_01),
        (445.0, 0.18),
        (500.0, 0.285_280_77),
        (685.0, 1.342_764_27),
        (1023.0, 22.755_725_53),
    ] {
        let ten = decode(Curve::Adx10, code / 1023.0);
        assert_close(&format!("code {code}"), ten, aces, 5e-6 * aces);
        // 16 bits count the same density: 8000 codes from 1520 on for 500 from 95 on.
        let sixteen = decode(Curve::Adx16, (1520.0 + (code - 95.0) * 16.0) / 65535.0);
        assert_close(&format!("code {code}, 16 bits"), sixteen, aces, 1e-5 * aces);
    }
    assert_close("darkest", decode(Curve::Adx10, 0.0), 1e-6, 1e-11);
}

#[test]
fn scans_count_density_as_they_encode_it() {
    for id in [EncodingId::FilmScan, EncodingId::Adx10, EncodingId::Adx16] {
        let scan = id.scan_density().unwrap();
        // A stop is as many densities as the gamma says, where the curve is a straight line in log light.
        let density = |light: f64| encode(id.info().curve, light) * scan.full_scale - scan.base;
        let stop = density(8.0) - density(4.0);
        let offset_form = if id == EncodingId::FilmScan {
            2e-3
        } else {
            1e-5
        };
        assert_close(
            id.id(),
            stop,
            scan.gamma * core::f64::consts::LOG10_2,
            offset_form,
        );
        let grey = density(0.18);
        let shift = if id == EncodingId::FilmScan {
            0.015
        } else {
            1e-5
        };
        assert_close(id.id(), grey, scan.grey, shift);
    }
    assert_eq!(EncodingId::LogC3.scan_density(), None);
}

#[test]
fn standard_densities_turn_into_the_standard_exposures() {
    // SMPTE ST 2065-3 counts the same 500 codes per unit of density from code 95; above 0.6 its
    // exposure is log10 E = 100/55 D - 2.017454768 (the published ADX10 to ACES transform).
    for (code, aces) in [
        (445.0, 0.18),
        (500.0, 0.28528077),
        (685.0, 1.34276427),
        (1023.0, 22.75572553),
    ] {
        let density = film_scan::density_from_code((code / 1023.0) as f32);
        let exposure = libm::pow(10.0, f64::from(density) * 100.0 / 55.0 - 2.017454768);
        assert_close(&format!("code {code}"), exposure, aces, 2e-6 * aces);
    }
}
