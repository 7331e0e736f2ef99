//! The light path: six stages from camera code to screen code, prepared for pixels.
//!
//! This is the table part of a look: all of it that maps one pixel to one pixel. The texture part
//! (what spreads light, moves it or lies on the film) stands between these functions; see [`plan`].

mod bend;
mod frames;
pub mod intake;
pub mod lens;
pub mod negative;
mod neutral;
pub mod plan;
mod point;
pub mod print;
pub mod scan;
pub mod scene_out;
pub mod screen;
mod spacing;
mod state;

pub use neutral::Neutral;
pub use plan::Plan;
pub use point::{PointPart, Points};
pub use spacing::Spacing;
pub use state::{Density, DisplayLin, FrameCode, LayerExposure, ScanCode, SceneLin, ScreenCode};

use crate::look::{Delivery, Frame, Look, StageId};
use lookwright_colour::Rgb;
use lookwright_colour::lane::Lane;

/// A look for one frame and one delivery, prepared for pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct LightPath {
    intake: intake::IntakePoint,
    lens: lens::LensPoint,
    negative: negative::NegativePoint,
    /// For a frame that is a film scan: it comes in behind the negative.
    entry: Option<scan::Entry>,
    scan: scan::ScanPoint,
    print: print::PrintPoint,
    screen: screen::ScreenPoint,
    /// Whether no step of the look acts.
    bypassed: bool,
}

impl LightPath {
    /// Prepares every step.
    pub fn new(look: &Look, frame: &Frame, delivery: &Delivery) -> Self {
        let negative = negative::NegativePoint::new(&look.negative);
        let entry = scan::Entry::new(frame, negative.record());
        Self {
            intake: intake::IntakePoint::new(frame),
            lens: lens::LensPoint::new(&look.lens),
            negative,
            entry,
            scan: scan::ScanPoint::new(
                &print::scan_for(&look.print, &look.scan),
                negative.record(),
            ),
            print: print::PrintPoint::new(&look.print),
            screen: screen::ScreenPoint::new(delivery, &look.print),
            bypassed: look.is_bypassed(),
        }
    }

    /// The point parts up to the end of a stage. A look whose steps are all off has no film: its scene
    /// light is written for the screen as the camera saw it, not scanned flat.
    pub fn points_up_to(&self, stage: StageId) -> Points {
        if self.bypassed && stage == StageId::Screen {
            Points::UNSTYLED
        } else if self.entry.is_some() {
            Points::of_scan(stage)
        } else {
            Points::up_to(stage)
        }
    }

    /// Whether the frame is a film scan, which was exposed and developed elsewhere.
    pub const fn is_of_scan(&self) -> bool {
        self.entry.is_some()
    }

    /// Where the nodes of a table belong that stands in for what follows the negative.
    pub fn spacing(&self) -> Spacing {
        Spacing::new(&self.scan)
    }

    /// The frame's code to AP1 scene light, trimmed. Always finite.
    #[inline(always)]
    pub fn intake<L: Lane>(&self, code: FrameCode<L>) -> SceneLin<L> {
        code.0.r.apart(
            #[inline(always)]
            || self.intake.apply(code),
        )
    }

    /// Scene light to scene light, before diffusion.
    #[inline(always)]
    pub fn lens<L: Lane>(&self, scene_lin: SceneLin<L>) -> SceneLin<L> {
        self.lens.apply(scene_lin)
    }

    /// Scene light to layer exposure, before halation and softness.
    #[inline(always)]
    pub fn expose<L: Lane>(&self, scene_lin: SceneLin<L>) -> LayerExposure<L> {
        scene_lin.0.r.apart(
            #[inline(always)]
            || self.negative.expose(scene_lin),
        )
    }

    /// Layer exposure to density above base, before grain and dust.
    #[inline(always)]
    pub fn develop<L: Lane>(&self, exposure: LayerExposure<L>) -> Density<L> {
        exposure.0.r.apart(
            #[inline(always)]
            || self.negative.develop(exposure),
        )
    }

    /// Scene light to density above base, where neither halation nor softness stands between: what
    /// exposure and development give, but for the last bits.
    #[inline(always)]
    pub fn develop_light<L: Lane>(&self, scene_lin: SceneLin<L>) -> Density<L> {
        scene_lin.0.r.apart(
            #[inline(always)]
            || self.negative.develop_light(scene_lin),
        )
    }

    /// A film scan's code to density above base; of other frames, no density.
    #[inline(always)]
    pub fn enter<L: Lane>(&self, code: FrameCode<L>) -> Density<L> {
        code.0.r.apart(
            #[inline(always)]
            || match &self.entry {
                Some(entry) => entry.apply(code),
                None => Density(code.0.map(|c| c.of(0.0))),
            },
        )
    }

    /// Density above base to the finished scan's code of 1.
    #[inline(always)]
    pub fn scan<L: Lane>(&self, density: Density<L>) -> ScanCode<L> {
        density.0.r.apart(
            #[inline(always)]
            || self.scan.apply(density),
        )
    }

    /// The scan's code to display light: linear, AP1 primaries, 1 being the print's white, without
    /// limits.
    #[inline(always)]
    pub fn print<L: Lane>(&self, scan_code: ScanCode<L>) -> DisplayLin<L> {
        scan_code.0.r.apart(
            #[inline(always)]
            || self.print.apply(scan_code),
        )
    }

    /// Display light to the screen's code.
    #[inline(always)]
    pub fn screen<L: Lane>(&self, display_lin: DisplayLin<L>) -> ScreenCode<L> {
        display_lin.0.r.apart(
            #[inline(always)]
            || self.screen.apply(display_lin),
        )
    }

    /// The scan's code to the screen's: what print and screen give, but for the last bits.
    #[inline(always)]
    pub fn print_to_screen<L: Lane>(&self, scan_code: ScanCode<L>) -> ScreenCode<L> {
        if self.print.is_scan() && self.screen.is_reference() {
            return scan_code.0.r.apart(
                #[inline(always)]
                || self.screen.of_code(scan_code.0),
            );
        }
        self.screen(self.print(scan_code))
    }

    /// A pixel of display light to the screen's own light without limits, white being 1.
    pub fn screen_light(&self, display_lin: [f32; 3]) -> [f32; 3] {
        let display_lin = DisplayLin(Rgb::from_array(display_lin));
        self.screen.light(display_lin).to_array()
    }

    /// Display light to the screen's own, coded, without limits: see [`screen::ScreenPoint`].
    #[inline(always)]
    pub fn screen_unlimited<L: Lane>(&self, display_lin: DisplayLin<L>) -> Rgb<L> {
        self.screen.unlimited(display_lin)
    }

    /// The screen's code, of which only the limits are missing, to the screen's code.
    #[inline(always)]
    pub fn screen_limited<L: Lane>(&self, code: Rgb<L>) -> ScreenCode<L> {
        self.screen.limited(code)
    }

    /// AP1 scene light written for the screen, limited to its range.
    #[inline(always)]
    pub fn scene_to_screen<L: Lane>(&self, scene_lin: SceneLin<L>) -> ScreenCode<L> {
        scene_lin.0.r.apart(
            #[inline(always)]
            || self.screen.from_scene(scene_lin),
        )
    }
}

#[cfg(test)]
mod tests;
