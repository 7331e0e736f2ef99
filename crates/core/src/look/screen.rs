//! Screen: how the picture is delivered. It belongs to a delivery, not to the look.

use super::intake::CodeRange;
use super::macros::{control, stage, step};
use crate::encoding::ScreenId;

step! {
    /// The display that the picture is made for.
    Display = "display", "Display", point, on,
    "Writes the picture in the code that a kind of screen expects." {
        screen: choice(ScreenId, Rec709), "Screen", "The kind of screen.";
        range: choice(CodeRange, Full), "Range", "Whether the codes span the whole scale or its legal part.";
    }
}

stage! {
    /// Everything that belongs to one delivery.
    Delivery = "screen", "Screen",
    "A screen is told numbers too. The same picture is written in the code of the screen that will show it." {
        display: Display,
    }
}
