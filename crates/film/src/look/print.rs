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

step! {
    /// Printing on positive film.
    Positive = "positive", "Positive", point, off,
    "Prints the scan on positive film with its own curve: deeper blacks and a harder shoulder. Off, the scan is shown straight, which is softer." {
        scan_contrast: number(0.6, neutral 1.0, 0.3, 1.5, by 0.01, "x"), "Scan contrast", "How much of the scan's contrast is printed: 1 suits a flat scan, less one that has been given contrast.";
        gamma: number(2.6, neutral 2.6, 1.8, 3.8, by 0.05, "gamma"), "Gamma", "Slope of the positive's straight line.";
        dmax: number(3.6, neutral 3.6, 2.0, 4.5, by 0.05, "density"), "Deepest black", "The positive's greatest density.";
        light: number(0.0, neutral 0.0, -12.0, 12.0, by 0.25, "points"), "Printing light", "More light makes a darker print.";
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
        white: White,
    }
}
