//! Scene light on a screen without a look: rendered neutrally, or cut off at the screen's brightest white.

use super::highlights::Highlights;
use crate::look::Before;
use crate::path::SceneLin;
use crate::path::neutral::Neutral;
use lookwright_colour::encoding::{Curve, ScreenId, Signal};
use lookwright_colour::lane::Lane;
use lookwright_colour::{PixelMatrix, Rgb};

/// Bare light, prepared for one screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bare {
    /// How it is shown; none where it is cut off at white.
    neutral: Option<Neutral>,
    from_ap1: PixelMatrix,
    /// What the screen shows for sRGB's codes.
    curve: Curve,
    highlights: Option<Highlights>,
    headroom: f32,
    signal: Signal,
}

impl Bare {
    pub(super) fn new(screen: ScreenId, before: Before) -> Self {
        let info = screen.info();
        Self {
            neutral: (before == Before::Soft).then(Neutral::new),
            from_ap1: screen.from_working().for_pixels(),
            curve: match info.peak {
                None => info.curve,
                Some(_) => Curve::Bt1886,
            },
            highlights: info.peak.map(Highlights::new),
            headroom: screen.headroom() as f32,
            signal: screen.signal(),
        }
    }

    /// AP1 scene light to the screen's signal.
    #[inline(always)]
    pub(super) fn signal<L: Lane>(&self, SceneLin(scene_lin): SceneLin<L>) -> Rgb<L> {
        let within = |light: Rgb<L>, most: f32| {
            self.from_ap1.apply(light).map(
                #[inline(always)]
                |x| x.clamp_to(0.0, most),
            )
        };
        let Some(neutral) = &self.neutral else {
            return self.signal.encode(within(scene_lin, self.headroom));
        };
        let code = within(neutral.show(scene_lin), 1.0).map(
            #[inline(always)]
            |x| Curve::Srgb.encode(x),
        );
        if self.signal.is_plain() {
            return code;
        }
        let light = code.map(
            #[inline(always)]
            |v| self.curve.decode(v),
        );
        self.signal.encode(match &self.highlights {
            Some(highlights) => highlights.apply(light).map(
                #[inline(always)]
                |x| x * self.headroom,
            ),
            None => light,
        })
    }
}
