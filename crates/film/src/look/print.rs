//! Print: from the scan to a positive, seen at a chosen white.

use super::macros::{control, options, stage, step};

options! {
    /// The white of the projected or viewed print.
    WhitePoint {
        D50 = "d50", "D50";
        D55 = "d55", "D55";
        D60 = "d60", "D60";
        D65 = "d65", "D65";
    }
}

options! {
    /// What kind of positive film.
    PositiveClass {
        Soft = "soft", "Soft";
        Normal = "normal", "Normal";
        Rich = "rich", "Rich";
    }
}

step! {
    /// Printing on positive film.
    Positive = "positive", "Positive", point, off,
    "Prints the scan on positive film: three dyes in a projector's light, with deep blacks and a firm shoulder. It is printed from the flat scan. Off, the shaped scan is shown straight, which is softer." {
        class: choice(PositiveClass, Normal), "Film", "Soft is lower in contrast and colour, rich higher in both.";
        gamma: number(3.2, neutral 3.2, 1.8, 3.8, by 0.05, "gamma"), "Gamma", "Slope of the normal film's straight line. Soft film has 0.93 times that slope, rich film 1.125 times.";
        dmax: number(3.6, neutral 3.6, 2.0, 4.5, by 0.05, "density"), "Deepest black", "The positive's greatest density.";
        light: number(0.0, neutral 0.0, -12.0, 12.0, by 0.25, "points"), "Printing light", "More light makes a darker print.";
        scan_contrast: number(0.0, neutral 0.0, 0.0, 1.5, by 0.01, "x"), "Scan contrast", "How much of the scan's contrast step is kept in what is printed. Positive film has contrast of its own, so the flat scan suits it.";
        silver: number(0.0, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Silver kept", "The share of the silver that a skipped bleach leaves beside the dyes: more contrast, less colour.";
        black_point: switch(false), "Black as black", "Shows the print's deepest black from the film's base as the screen's black.";
    }
}

step! {
    /// The colour of what the print is on.
    Base = "base", "Base tint", point, off,
    "What the picture is printed on has a colour of its own, seen where little dye covers it: whites take it, black stays black." {
        hue: number(50.0, neutral 50.0, 0.0, 360.0, by 1.0, "deg"), "Hue", "The base's hue.";
        density: number(0.06, neutral 0.0, 0.0, 0.5, by 0.005, "density"), "Density", "How much of the other light it takes.";
    }
}

step! {
    /// The print's white.
    White = "white", "Print white", point, on,
    "The light that the print is seen in. A warmer white makes the whole picture warm, whites and greys alike." {
        white: choice(WhitePoint, D65), "White", "The white of the projector or the viewing light.";
    }
}

stage! {
    /// From the scan to the picture that is viewed.
    Print = "print", "Print",
    "The scan is printed as a positive, or shown straight. The light it is viewed in is part of the picture: it decides what white is." {
        positive: Positive,
        base: Base,
        white: White,
    }
}
