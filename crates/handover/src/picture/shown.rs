//! A table's output as colours of a page, which are sRGB.

use lookwright_colour::byte::byte;
use lookwright_colour::encoding::{ScreenId, Signal};
use lookwright_colour::space::{Cat, primaries::BT709, rgb_to_rgb};
use lookwright_colour::{Mat3, Result, Rgb};
use lookwright_table::health::Setting;

/// Turns a table's output into sRGB.
pub(super) struct Shown {
    gain: f32,
    offset: f32,
    screen: Signal,
    to_709: Mat3,
}

impl Shown {
    /// # Errors
    /// If the setting's range is not defined.
    pub(super) fn new(setting: Setting) -> Result<Self> {
        let squeeze = setting.range.from_signal(10)?;
        let info = setting.screen.info();
        Ok(Self {
            gain: squeeze.gain,
            offset: squeeze.offset,
            screen: setting.screen.signal(),
            to_709: rgb_to_rgb(&info.gamut, &BT709, Cat::Bradford),
        })
    }

    /// As `#rrggbb`.
    pub(super) fn hex(&self, out: [f32; 3]) -> String {
        let signal = out.map(|v| ((v - self.offset) / self.gain).clamp(0.0, 1.0));
        let light = self.screen.decode(Rgb::from_array(signal)).to_array();
        let srgb = ScreenId::Srgb.info().curve;
        let [r, g, b] = self
            .to_709
            .apply(light.map(f64::from))
            .map(|v| byte(srgb.encode((v as f32).clamp(0.0, 1.0))));
        format!("#{r:02x}{g:02x}{b:02x}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lookwright_colour::encoding::Range;

    /// A code of 0.5 on a screen of gamma 2.4 gives 0.1895 of its light, which sRGB
    /// (IEC 61966-2-1) writes as 1.055 * 0.1895^(1/2.4) - 0.055 = 0.4725: code 120 of 255.
    #[test]
    fn a_television_code_becomes_the_page_colour_of_the_same_light() {
        let full = Shown::new(Setting::default()).unwrap();
        assert_eq!(full.hex([0.5; 3]), "#787878");
        assert_eq!(full.hex([1.5, 0.0, -1.0]), "#ff0000");
        let legal = Shown::new(Setting {
            range: Range::Legal,
            ..Setting::default()
        });
        let squeezed = [0.0, 1.0, 0.5].map(|v| (v * 876.0 + 64.0) / 1023.0);
        assert_eq!(legal.unwrap().hex(squeezed), full.hex([0.0, 1.0, 0.5]));
    }
}
