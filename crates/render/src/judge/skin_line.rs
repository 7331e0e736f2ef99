//! Where skins lie on a vectorscope: the hue that published skin colours have there.

use lookwright_colour::encoding::{Curve, ScreenId};
use lookwright_colour::space::white::{D50, D65};
use lookwright_colour::space::{Cat, Lab, primaries::BT709, rgb_to_rgb};

use super::vectorscope::ColourDifferences;

/// Dark and light skin of the 24-patch chart, CIELAB under D50 (its maker's data of 2014, as
/// colour-science 0.4.7 carries them).
const SKINS: [[f64; 3]; 2] = [[37.54, 14.37, 14.92], [64.66, 19.27, 17.5]];

/// Power of the display in whose light a picture is judged (ITU-R BT.1886).
const DISPLAY_POWER: f64 = 2.4;

/// The direction of skins on a screen's vectorscope in degrees, counted from Cb to the right towards Cr
/// upwards: the mean of dark and light skin in the light that the screen's white stands for, with the
/// codes that the screen stage would give it.
#[must_use]
pub fn skin_line(screen: ScreenId) -> f64 {
    let differences = ColourDifferences::of(screen);
    let angles = SKINS.map(|skin| {
        let [cb, cr] = differences.at(code_of(skin, screen).map(|v| v as f32));
        libm::atan2(f64::from(cr), f64::from(cb)).to_degrees()
    });
    (angles[0] + angles[1]) / 2.0
}

/// A colour's code on a screen.
fn code_of([l, a, b]: [f64; 3], screen: ScreenId) -> [f64; 3] {
    let seen = Cat::Bradford
        .xyz(D50, D65)
        .apply(Lab { l, a, b }.to_xyz(D50));
    let coded = |light: [f64; 3]| light.map(|v| libm::pow(v, 1.0 / DISPLAY_POWER));
    let primaries = screen.info().primaries;
    match screen {
        ScreenId::Rec709 | ScreenId::Rec2020 => coded(primaries.xyz_to_rgb().apply(seen)),
        // Computer screens show the codes of television under a curve of their own.
        ScreenId::Srgb => coded(BT709.xyz_to_rgb().apply(seen)),
        ScreenId::DisplayP3 => {
            let codes = coded(BT709.xyz_to_rgb().apply(seen));
            rgb_to_rgb(&BT709, &primaries, Cat::Bradford)
                .apply(codes.map(|v| f64::from(Curve::Srgb.decode(v as f32))))
                .map(|v| f64::from(Curve::Srgb.encode(v as f32)))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::Mat3;

    #[test]
    fn skins_lie_between_red_and_yellow_near_where_the_trade_draws_its_line() {
        // 123 degrees is where scopes of BT.709 have their line: common practice, no source.
        for screen in [ScreenId::Rec709, ScreenId::Srgb, ScreenId::DisplayP3] {
            let angle = skin_line(screen);
            assert!((angle - 123.0).abs() < 8.0, "{screen:?} {angle}");
        }
    }

    /// The same skins by ITU-R BT.2087-0's matrix from BT.709's light to BT.2020's, as it is printed.
    #[test]
    fn on_wider_primaries_skins_turn_as_bt_2087_has_it() {
        const BT2087: Mat3 = Mat3([
            [0.6274, 0.3293, 0.0433],
            [0.0691, 0.9195, 0.0114],
            [0.0164, 0.0880, 0.8956],
        ]);
        let differences = ColourDifferences::of(ScreenId::Rec2020);
        let angles = SKINS.map(|skin| {
            let light = code_of(skin, ScreenId::Rec709).map(|v| libm::pow(v, 2.4));
            let code = BT2087.apply(light).map(|v| libm::pow(v, 1.0 / 2.4) as f32);
            let [cb, cr] = differences.at(code);
            cr.atan2(cb).to_degrees()
        });
        let expected = f64::from(angles[0] + angles[1]) / 2.0;
        let angle = skin_line(ScreenId::Rec2020);
        assert!((angle - expected).abs() < 0.1, "{angle} for {expected}");
    }

    #[test]
    fn a_screen_that_shares_its_codes_shares_its_line() {
        assert_eq!(skin_line(ScreenId::Rec709), skin_line(ScreenId::Srgb));
        assert_ne!(skin_line(ScreenId::Rec709), skin_line(ScreenId::Rec2020));
    }
}
