//! Where skins lie on a vectorscope: the hue that published skin colours have there.

use lookwright_colour::space::white::{D50, D65};
use lookwright_colour::space::{Cat, Lab, primaries::BT709};

use super::scopes::differences;

/// Dark and light skin of the 24-patch chart, CIELAB under D50 (its maker's data of 2014, as
/// colour-science 0.4.7 carries them).
const SKINS: [[f64; 3]; 2] = [[37.54, 14.37, 14.92], [64.66, 19.27, 17.5]];

/// The direction of skins on the vectorscope in degrees, counted from Cb to the right towards Cr
/// upwards: the mean of dark and light skin in the light that the screen's white stands for, on a
/// Rec.709 screen of power 2.4.
#[must_use]
pub fn skin_line() -> f64 {
    let to_light = BT709.xyz_to_rgb().after(&Cat::Bradford.xyz(D50, D65));
    let angles = SKINS.map(|[l, a, b]| {
        let light = to_light.apply(Lab { l, a, b }.to_xyz(D50));
        let [cb, cr] = differences(light.map(|v| libm::pow(v, 1.0 / 2.4) as f32));
        libm::atan2(f64::from(cr), f64::from(cb)).to_degrees()
    });
    (angles[0] + angles[1]) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn skins_lie_between_red_and_yellow_near_where_the_trade_draws_its_line() {
        // 123 degrees is where scopes have their line: common practice, no source.
        let angle = skin_line();
        assert!((angle - 123.0).abs() < 8.0, "{angle}");
    }
}
