//! What the three numbers of a pixel are, as types: a value of one state can't be handed to a step
//! that takes another.
//!
//! ```
//! use lookwright_colour::Rgb;
//! use lookwright_film::look::{Delivery, Frame, Look};
//! use lookwright_film::path::{FrameCode, LightPath};
//!
//! let path = LightPath::new(&Look::default(), &Frame::default(), &Delivery::default());
//! let scene_lin = path.lens(path.intake(FrameCode(Rgb::grey(0.4_f32))));
//! let density = path.develop(path.expose(scene_lin));
//! let screen_code = path.screen(path.print(path.scan(density)));
//! assert!(screen_code.0.g > 0.0);
//! ```
//!
//! Film takes light, not code:
//!
//! ```compile_fail
//! # use lookwright_film::path::{FrameCode, LayerExposure, LightPath};
//! fn wrong(path: &LightPath, code: FrameCode) -> LayerExposure {
//!     path.expose(code)
//! }
//! ```
//!
//! What is developed is what the layers took, not the light that fell on them:
//!
//! ```compile_fail
//! # use lookwright_film::path::{Density, LightPath, SceneLin};
//! fn wrong(path: &LightPath, scene_lin: SceneLin) -> Density {
//!     path.develop(scene_lin)
//! }
//! ```
//!
//! Exposure has to be developed before it can be scanned:
//!
//! ```compile_fail
//! # use lookwright_film::path::{LayerExposure, LightPath, ScanCode};
//! fn wrong(path: &LightPath, exposure: LayerExposure) -> ScanCode {
//!     path.scan(exposure)
//! }
//! ```
//!
//! Density has to be scanned before it is printed:
//!
//! ```compile_fail
//! # use lookwright_film::path::{Density, DisplayLin, LightPath};
//! fn wrong(path: &LightPath, density: Density) -> DisplayLin {
//!     path.print(density)
//! }
//! ```
//!
//! A scan is not yet a picture for the screen:
//!
//! ```compile_fail
//! # use lookwright_film::path::{LightPath, ScanCode, ScreenCode};
//! fn wrong(path: &LightPath, scan_code: ScanCode) -> ScreenCode {
//!     path.screen(scan_code)
//! }
//! ```
//!
//! Nor does light go back to where it came from:
//!
//! ```compile_fail
//! # use lookwright_film::path::{LightPath, SceneLin, ScreenCode};
//! fn wrong(path: &LightPath, screen_code: ScreenCode) -> SceneLin {
//!     path.lens(screen_code)
//! }
//! ```

use lookwright_colour::Rgb;

macro_rules! states {
    ($($(#[$doc:meta])* $name:ident)+) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, PartialEq)]
            #[repr(transparent)]
            pub struct $name<L = f32>(pub Rgb<L>);
        )+
    };
}

states! {
    /// The frame's code, as its encoding defines it; full range is 0 to 1.
    FrameCode
    /// Light of the scene: linear, AP1 primaries, mid-grey 0.18. Finite.
    SceneLin
    /// What each layer of the film took of the light: linear, mid-grey 0.18, above 0.
    LayerExposure
    /// Density of each layer's dye above base.
    Density
    /// Code of the film scan: 10-bit codes as shares of 1023.
    ScanCode
    /// Light of the viewed print: linear, AP1 primaries, 1 is the print's white. May be brighter than
    /// that, or outside what a screen can show.
    DisplayLin
    /// Code of the screen that a picture is delivered for, in its range of codes.
    ScreenCode
}
