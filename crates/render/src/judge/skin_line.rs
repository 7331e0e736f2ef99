//! Where skins lie on a vectorscope: the hue that published skin colours have there.

use lookwright_colour::Rgb;
use lookwright_colour::encoding::ScreenId;
use lookwright_colour::space::white::{ACES, D50};
use lookwright_colour::space::{Cat, Lab, primaries::AP1};
use lookwright_film::look::{Delivery, Print};
use lookwright_film::path::DisplayLin;
use lookwright_film::path::screen::ScreenPoint;

use super::vectorscope::ColourDifferences;

/// Dark and light skin of the 24-patch chart, CIELAB under D50 (its maker's data of 2014, as
/// colour-science 0.4.7 carries them).
const SKINS: [[f64; 3]; 2] = [[37.54, 14.37, 14.92], [64.66, 19.27, 17.5]];

/// The direction of skins on a screen's vectorscope in degrees, counted from Cb to the right towards Cr
/// upwards: the mean of dark and light skin in the light that the screen's white stands for, with the
/// codes that the screen stage would give it.
#[must_use]
pub fn skin_line(screen: ScreenId) -> f64 {
    let differences = ColourDifferences::of(screen);
    let angles = SKINS.map(|skin| {
        let [cb, cr] = differences.at(code_of(skin, screen));
        libm::atan2(f64::from(cr), f64::from(cb)).to_degrees()
    });
    (angles[0] + angles[1]) / 2.0
}

/// A colour's code on a screen, by the screen stage: greys are equal codes.
fn code_of([l, a, b]: [f64; 3], screen: ScreenId) -> [f32; 3] {
    let seen = Cat::Bradford
        .xyz(D50, ACES)
        .apply(Lab { l, a, b }.to_xyz(D50));
    let light = AP1.xyz_to_rgb().apply(seen).map(|v| v as f32);
    let mut delivery = Delivery::default();
    delivery.display.screen = screen;
    let stage = ScreenPoint::new(&delivery, &Print::default());
    let code = stage.apply(DisplayLin(Rgb::from_array(light))).0;
    screen.signal().uncontained(code).to_array()
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
            let light = code_of(skin, ScreenId::Rec709).map(|v| libm::pow(v.into(), 2.4));
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
