//! Screens' signals against the codes that standards print.

use super::{assert_close, light_tolerance};
use crate::Rgb;
use crate::encoding::ScreenId;
use crate::space::{Xy, primaries, white};

/// 12-bit codes of a chromaticity in X'Y'Z', at this share of 48 cd/m2.
fn dcdm(xyz: [f64; 3]) -> [f64; 3] {
    let light = primaries::DISPLAY_P3.xyz_to_rgb().apply(xyz);
    let light = Rgb::from_array(light.map(|v| v as f32));
    let signal = ScreenId::DcdmXyz.signal().encode(light);
    signal.to_array().map(|v| f64::from(v) * 4095.0)
}

/// White of the theatre from SMPTE RP 431-2, as `eotf_inverse_DCDM` of colour-science 0.4.7 has it, too; its red,
/// green and secondaries as that table has them (from memory; by colour-science 0.4.7 within half a code).
#[test]
fn dcdm_codes_are_those_of_the_reference_projector() {
    let p3 = primaries::DCI_P3.rgb_to_xyz();
    for (rgb, codes) in [
        ([1.0, 1.0, 1.0], [3794.0, 3960.0, 3890.0]),
        ([0.0, 1.0, 0.0], [2417.0, 3493.0, 1222.0]),
        ([0.0, 1.0, 1.0], [2911.0, 3618.0, 3890.0]),
        ([1.0, 1.0, 0.0], [3494.0, 3853.0, 1222.0]),
    ] {
        for (found, code) in dcdm(p3.apply(rgb)).into_iter().zip(codes) {
            assert_close("X'Y'Z'", found, code, 0.51);
        }
    }
    // The picture's white, by colour-science 0.4.7: the last is the most that X'Y'Z' is asked for.
    let found = dcdm(white::D65.to_xyz());
    for (found, code) in found.into_iter().zip([3883.3975, 3960.0398, 4092.1345]) {
        assert_close("X'Y'Z' of D65", found, code, 0.01);
    }
}

/// By colour-science 0.4.7 D65 has the light 1.09300076, 0.95862399, 1.15053525 on P3 with the white of
/// RP 431-2: its brightest channel is full.
#[test]
fn d65_in_a_theatres_own_white_is_as_bright_as_its_blue_allows() {
    let signal = ScreenId::P3DciTheatre.signal();
    let code = signal.encode(Rgb::grey(1.0_f32)).to_array();
    let light = [1.093_000_76, 0.958_623_99, 1.150_535_25];
    for (found, light) in code.into_iter().zip(light) {
        let expected = libm::pow(light / 1.150_535_25, 1.0 / 2.6);
        assert_close("code of white", found.into(), expected, 2e-6);
    }
    let shown = code.map(|v| libm::pow(v.into(), 2.6));
    let xyz = primaries::DCI_P3.rgb_to_xyz().apply(shown);
    let xy = Xy::from_xyz(xyz);
    assert!((xy.x - 0.3127).abs() < 1e-6 && (xy.y - 0.3290).abs() < 1e-6);
    assert_close("cd/m2", 48.0 * xyz[1], 41.72, 0.005);
}

#[test]
fn light_comes_back_from_every_signal_and_containers_can_be_looked_through() {
    for screen in ScreenId::ALL {
        let signal = screen.signal();
        for light in [[0.18_f32; 3], [1.0, 0.5, 0.02], [0.001, 0.2, 0.9], [1.0; 3]] {
            let code = signal.encode(Rgb::from_array(light));
            assert!(code.to_array().iter().all(|v| (0.0..=1.0).contains(v)));
            let back = signal.decode(code).to_array();
            for (found, light) in back.into_iter().zip(light) {
                let tolerance = 3e-6 + light_tolerance(screen.info().curve) * f64::from(light);
                assert_close(screen.id(), found.into(), light.into(), tolerance);
            }
            let own = signal.uncontained(code);
            if signal.is_plain() {
                assert_eq!(own, code);
            }
            let grey = signal.uncontained(signal.encode(Rgb::grey(light[0])));
            assert_close(screen.id(), grey.r.into(), grey.g.into(), 2e-6);
            assert_close(screen.id(), grey.b.into(), grey.g.into(), 2e-6);
        }
    }
}

/// cd/m2 and their codes by colour-science 0.4.7, `eotf_inverse_ST2084`.
#[test]
fn pq_codes_the_light_of_every_screen_alike() {
    for screen in [
        ScreenId::Pq600,
        ScreenId::Pq1000,
        ScreenId::Pq2000,
        ScreenId::Pq4000,
    ] {
        for (cd_m2, code) in [
            (0.1, 0.062_336_866),
            (1.0, 0.149_945_732),
            (26.0, 0.380_032_274),
            (100.0, 0.508_078_421),
            (203.0, 0.580_688_881),
            (600.0, 0.696_294_086),
            (1000.0, 0.751_827_096),
            (4000.0, 0.902_572_393),
        ] {
            let signal = screen.signal().encode(Rgb::grey((cd_m2 / 203.0) as f32));
            assert_close(screen.id(), signal.g.into(), code, 1.2e-5);
        }
        let peak = screen.signal().encode(Rgb::grey(screen.headroom() as f32));
        let back = screen.signal().decode(peak).g;
        assert_close(
            "peak",
            (f64::from(back) * 203.0) / screen.info().peak.unwrap(),
            1.0,
            1e-4,
        );
    }
}

/// By colour-science 0.4.7, `eotf_inverse_BT2100_HLG` at 1000 cd/m2.
#[test]
fn hlg_codes_light_with_the_system_gamma_undone() {
    let code = |light: [f64; 3]| {
        let light = Rgb::from_array(light.map(|v| (v / 203.0) as f32));
        ScreenId::Hlg1000.signal().encode(light).to_array()
    };
    for (cd_m2, expected) in [
        ([26.0; 3], [0.378_558_372; 3]),
        ([100.0; 3], [0.629_620_321; 3]),
        ([203.0; 3], [0.749_877_365; 3]),
        ([1000.0; 3], [0.999_999_995; 3]),
        (
            [500.0, 50.0, 10.0],
            [0.927_485_62, 0.449_853_26, 0.201_180_49],
        ),
    ] {
        for (found, expected) in code(cd_m2).into_iter().zip(expected) {
            assert_close("HLG", found.into(), expected, 2e-6);
        }
    }
    assert_eq!(code([0.0; 3]), [0.0; 3]);
}

/// ITU-R BT.2408-7, table 1, to the whole percent that it prints.
#[test]
fn cards_have_the_codes_of_the_operational_practice() {
    for (screen, cd_m2, percent) in [
        (ScreenId::Pq1000, 26.0, 38.0),
        (ScreenId::Pq1000, 203.0, 58.0),
        (ScreenId::Hlg1000, 26.0, 38.0),
        (ScreenId::Hlg1000, 203.0, 75.0),
    ] {
        let code = screen.signal().encode(Rgb::grey((cd_m2 / 203.0) as f32)).g;
        assert_eq!((code * 100.0).round(), percent, "{screen:?} {cd_m2}");
    }
}
