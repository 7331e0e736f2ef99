//! Screen: the print's display light to the code of the screen that will show it.
//!
//! Display light is brought into what the screen can show (`roll`), relative to the print's white,
//! and coded. It is that of a display with gamma 2.4 (BT.1886, black at 0), seen in a dim room.
//! Rec.2020 shows the same light on wider primaries. Computer screens stand in brighter rooms,
//! where the same codes under sRGB's own curve, which is lighter in the shadows, look the same:
//! sRGB takes the codes that Rec.709 would have, Display P3 shows what such an sRGB screen would
//! show if its gamut were as wide (common practice, no source; television's gamma 2.4 for a dim
//! surround against 2.2 for an average one). Theatres are dark: there the same codes are shown under
//! gamma 2.6, on P3's primaries. Whites stay those that the print has; of codes that are a container
//! see [`Signal`]. Screens of high dynamic range show Rec.2020's light, opened towards their peak
//! ([`mod@highlights`]), and bring it in relative to that.

mod bare;
mod highlights;
mod primaries;
mod roll;

pub use primaries::roll as roll_of;
pub use roll::Roll;

use crate::look::{self, CodeRange, effective_amount};
use crate::path::print::{DISPLAY_GAMMA, White, display_light};
use crate::path::{DisplayLin, SceneLin, ScreenCode};
use bare::Bare;
use highlights::Highlights;
use lookwright_colour::encoding::{Affine, Curve, Range, Signal};
use lookwright_colour::lane::Lane;
use lookwright_colour::space::{Cat, primaries::AP1, primaries::BT709, rgb_to_rgb};
use lookwright_colour::{Mat3, PixelMatrix, Rgb};

/// Legal range as at 10 bits; see the intake.
const LEGAL_BITS: u32 = 10;

/// The screen, prepared for pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenPoint {
    /// From display light to the screen's, or to Rec.709's where a computer screen is to show it,
    /// relative to the print's white.
    from_display: PixelMatrix,
    /// The curve under which a screen in another room shows the same codes, and from Rec.709's light
    /// under it to the screen's; none where the codes are those of a dim room.
    other_room: Option<(Curve, PixelMatrix)>,
    /// On a screen of high dynamic range: from the picture's light to the same by the screen's peak.
    highlights: Option<Highlights>,
    roll: Roll,
    /// Whether its codes are those of the reference display.
    is_reference: bool,
    /// Light in [`Self::unlimited`]'s code below which that bends through none, and its code.
    soft: (f32, f32),
    /// The print's white in the screen's light; none where it is the screen's own.
    white: Option<Rgb>,
    /// The screen's peak by the picture's white card: 1 but for high dynamic range.
    headroom: f32,
    /// From the screen's light to code.
    signal: Signal,
    /// For scene light without a look.
    bare: Bare,
    range: Affine,
}

impl ScreenPoint {
    /// From a delivery's settings and the print's, whose white is shown.
    pub fn new(delivery: &look::Delivery, print: &look::Print) -> Self {
        let id = delivery.display.screen;
        let screen = id.info();
        let gamut = &screen.gamut;
        let range = match delivery.display.range {
            CodeRange::Full => Range::Full,
            CodeRange::Legal => Range::Legal,
        };
        let white = White::new(&print.white);
        let room = match screen.curve {
            Curve::Srgb | Curve::Gamma26 => Some(screen.curve),
            _ => None,
        };
        // sRGB without a white of its own needs no detour: its codes are Rec.709's.
        let detour = room.filter(|_| *gamut != BT709 || white.is_some());
        let first = if detour.is_some() { &BT709 } else { gamut };
        let is_shared = room.is_some() && detour.is_none();
        let is_television = *gamut == BT709 && screen.curve == Curve::Bt1886 && white.is_none();
        let seen = |primaries| Seen::new(white, primaries);
        let (at_first, at_screen) = (seen(first), seen(gamut));
        Self {
            from_display: at_first
                .adapted
                .after(&rgb_to_rgb(&AP1, first, Cat::Bradford))
                .for_pixels(),
            other_room: detour.map(|curve| {
                let matrix = Mat3::diagonal(at_screen.white.map(|v| 1.0 / v))
                    .after(&rgb_to_rgb(&BT709, gamut, Cat::Bradford))
                    .after(&Mat3::diagonal(at_first.white));
                (curve, matrix.for_pixels())
            }),
            highlights: screen.peak.map(Highlights::new),
            roll: primaries::roll(id),
            is_reference: is_shared || is_television,
            soft: soft_zero(effective_amount(&print.positive) > 0.0),
            white: white.map(|_| at_screen.relative_to_brightest()),
            headroom: id.headroom() as f32,
            signal: if is_shared {
                Signal::plain(Curve::Bt1886)
            } else {
                id.signal()
            },
            bare: Bare::new(id, delivery.display.before),
            range: range.from_signal(LEGAL_BITS).unwrap_or(Affine::IDENTITY),
        }
    }

    /// Display light to the screen's code of 1.
    #[inline(always)]
    pub fn apply<L: Lane>(&self, display_lin: DisplayLin<L>) -> ScreenCode<L> {
        self.within(self.light(display_lin))
    }

    /// Whether [`Self::of_code`] says what is shown of codes of the reference display.
    pub(super) const fn is_reference(&self) -> bool {
        self.is_reference
    }

    /// The reference display's code to this screen's, whose codes are the same: what [`Self::apply`] makes
    /// of the code's light, but for the last bits. Light that stays as it is need not be known.
    #[inline(always)]
    pub(super) fn of_code<L: Lane>(&self, code: Rgb<L>) -> ScreenCode<L> {
        let same = self.coded(code);
        let moved = self.roll.may_move_code(code);
        if !L::any(moved) {
            return same;
        }
        let brought_in = self.within(code.map(
            #[inline(always)]
            |c| display_light(c),
        ));
        ScreenCode(brought_in.0.zip(
            same.0,
            #[inline(always)]
            |brought_in, same| L::select(moved, brought_in, same),
        ))
    }

    /// All of [`Self::apply`] but its limits: the screen's light without any, as a code that is as
    /// smooth as the print. For tables; [`Self::limited`] does the rest.
    #[inline(always)]
    pub fn unlimited<L: Lane>(&self, display_lin: DisplayLin<L>) -> Rgb<L> {
        let (soft, none) = self.soft;
        self.light(display_lin).map(
            #[inline(always)]
            |x| {
                mirrored(
                    x,
                    #[inline(always)]
                    |x| (x + soft).pow(1.0 / DISPLAY_GAMMA) - none,
                )
            },
        )
    }

    /// What is left to do after [`Self::unlimited`].
    #[inline(always)]
    pub fn limited<L: Lane>(&self, code: Rgb<L>) -> ScreenCode<L> {
        let (soft, none) = self.soft;
        self.within(code.map(
            #[inline(always)]
            |c| {
                mirrored(
                    c,
                    #[inline(always)]
                    |c| (c + none).pow(DISPLAY_GAMMA) - soft,
                )
            },
        ))
    }

    /// Display light to the screen's light by its brightest white, without limits.
    #[inline(always)]
    pub(super) fn light<L: Lane>(&self, DisplayLin(display_lin): DisplayLin<L>) -> Rgb<L> {
        let light = self.from_display.apply(display_lin);
        let light = match &self.other_room {
            Some((curve, matrix)) => matrix.apply(light.map(
                #[inline(always)]
                |x| shown_in_another_room(x, *curve),
            )),
            None => light,
        };
        match &self.highlights {
            Some(highlights) => highlights.apply(light),
            None => light,
        }
    }

    /// The screen's light, brought in, to its code.
    #[inline(always)]
    fn within<L: Lane>(&self, light: Rgb<L>) -> ScreenCode<L> {
        let mut light = self.roll.apply(light);
        if let Some(white) = self.white {
            light = light.zip(
                white,
                #[inline(always)]
                |x, white| x * white,
            );
        }
        self.coded(self.signal.encode(light.map(
            #[inline(always)]
            |x| x * self.headroom,
        )))
    }

    /// AP1 scene light to the screen's code, limited to its range: no look at all. Shown neutrally it
    /// has the codes of sRGB on every screen whose codes are its own, so a finished photograph is shown
    /// as it came.
    #[inline(always)]
    pub fn from_scene<L: Lane>(&self, scene_lin: SceneLin<L>) -> ScreenCode<L> {
        self.coded(self.bare.signal(scene_lin))
    }

    /// Signal, limited, to code.
    #[inline(always)]
    fn coded<L: Lane>(&self, signal: Rgb<L>) -> ScreenCode<L> {
        ScreenCode(signal.map(
            #[inline(always)]
            |v| self.range.apply(v.clamp_to(0.0, 1.0)),
        ))
    }
}

/// A light, and its code, by which codes of light without limits are moved together about none. The
/// straight finish is shaped in code and passes none there as it passes any code; a print passes it in
/// light, where the power alone would be infinitely steep.
fn soft_zero(is_printed: bool) -> (f32, f32) {
    let light = if is_printed { 0.01_f32 } else { 0.0 };
    (light, Lane::pow(light, 1.0 / DISPLAY_GAMMA))
}

/// `f` of the size of `x`, with the sign of `x`.
#[inline(always)]
fn mirrored<L: Lane>(x: L, f: impl Fn(L) -> L) -> L {
    let size = f(x.abs());
    L::select(x.lt(x.of(0.0)), -size, size)
}

/// What an sRGB screen shows for the code that a gamma-2.4 display needs for `light`; below 0
/// mirrored.
#[inline(always)]
pub(super) fn shown_in_a_brighter_room<L: Lane>(light: L) -> L {
    shown_in_another_room(light, Curve::Srgb)
}

/// The same of a screen on any curve.
#[inline(always)]
fn shown_in_another_room<L: Lane>(light: L, curve: Curve) -> L {
    mirrored(
        light,
        #[inline(always)]
        |x| curve.decode(Curve::Bt1886.encode(x)),
    )
}

/// The print's white on one screen's primaries.
struct Seen {
    /// Takes linear light to the same relative to that white: greys stay equal numbers.
    adapted: Mat3,
    white: [f64; 3],
}

impl Seen {
    fn new(white: Option<White>, screen: &lookwright_colour::space::Primaries) -> Self {
        let adaptation = white.map_or(Mat3::IDENTITY, |white| white.on(screen));
        let white = adaptation.apply([1.0; 3]);
        Self {
            adapted: Mat3::diagonal(white.map(|v| 1.0 / v)).after(&adaptation),
            white,
        }
    }

    /// The white at the brightest that the screen can show it.
    fn relative_to_brightest(&self) -> Rgb {
        let brightest = self.white.iter().fold(0.0_f64, |m, v| m.max(*v));
        Rgb::from_array(self.white.map(|v| (v / brightest) as f32))
    }
}

#[cfg(test)]
mod tests;
