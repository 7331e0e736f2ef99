//! Scan: the developed negative as flat log code, and what a colourist does with it.

use super::macros::{control, stage, step};

step! {
    /// Printer lights: the late balance.
    Points = "points", "Printer points", point, on,
    "The late balance, after the film: more or less of a printing light moves the whole tone scale by the same step in density, so it pushes rather than corrects. Light balance, at the lens, is the accurate one." {
        red: number(0.0, neutral 0.0, -24.0, 24.0, by 0.25, "points"), "Red", "Red light; above zero the picture gets redder and lighter.";
        green: number(0.0, neutral 0.0, -24.0, 24.0, by 0.25, "points"), "Green", "Green light; above zero the picture gets greener and lighter.";
        blue: number(0.0, neutral 0.0, -24.0, 24.0, by 0.25, "points"), "Blue", "Blue light; above zero the picture gets bluer and lighter.";
        warmth: number(0.0, neutral 0.0, -12.0, 12.0, by 0.25, "points"), "Warmth", "Red against blue, in opposite steps.";
        tint: number(0.0, neutral 0.0, -12.0, 12.0, by 0.25, "points"), "Tint", "Green against red and blue.";
        whole: number(0.0, neutral 0.0, -24.0, 24.0, by 0.25, "points"), "All", "All three lights together.";
    }
}

step! {
    /// Contrast on the scan.
    Contrast = "contrast", "Contrast", point, on,
    "One smooth curve from the flat scan to a picture: steeper about the pivot, with blacks and whites that bend instead of clipping." {
        slope: number(1.93, neutral 1.0, 0.4, 4.0, by 0.01, "x"), "Slope", "How steep the middle is; 1 leaves it as it is.";
        pivot: number(475.0, neutral 475.0, 250.0, 750.0, by 1.0, "code"), "Pivot", "The code that stays put, of 1023.";
        black_drop: number(0.1, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Black drop", "How deep the blacks go; at 1 the film's base is black.";
        white_roll: number(0.3, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "White roll", "How early the whites begin to bend.";
        toe: number(0.4, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Toe", "How early and softly the blacks bend: more of it opens the shadows.";
        shoulder: number(0.2, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Shoulder", "How softly the whites bend: at 1 they come to rest very slowly and keep the brightest lights apart.";
    }
}

step! {
    /// Free curves over the scan.
    Curves = "curves", "Curves", point, on,
    "Free curves through points. Lowering the red curve's top end gives cyan highlights and leaves the middle alone." {
        master: curve(16), "Master", "Acts on all three alike.";
        red: curve(16), "Red", "Acts on red.";
        green: curve(16), "Green", "Acts on green.";
        blue: curve(16), "Blue", "Acts on blue.";
    }
}

step! {
    /// Opposite tints for shadows and highlights.
    SplitTone = "split_tone", "Split tone", point, on,
    "Tints shadows and highlights apart. Tints leave lightness alone and fade towards black and white; offsets reach black and white themselves." {
        shadow_hue: number(220.0, neutral 220.0, 0.0, 360.0, by 1.0, "deg"), "Dark hue", "Hue of the tint in the darks.";
        shadow_tint: number(0.0, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Dark tint", "How strongly the darks are tinted.";
        shadow_offset: number(0.0, neutral 0.0, -0.1, 0.1, by 0.005, "code"), "Black light", "Light of that hue laid into the blacks (above zero) or taken out of them.";
        highlight_hue: number(40.0, neutral 40.0, 0.0, 360.0, by 1.0, "deg"), "Light hue", "Hue of the tint in the lights.";
        highlight_tint: number(0.0, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Light tint", "How strongly the lights are tinted.";
        highlight_offset: number(0.0, neutral 0.0, -0.1, 0.1, by 0.005, "code"), "White light", "Light of that hue laid into the whites (above zero) or taken out of them.";
        balance: number(0.0, neutral 0.0, -1.0, 1.0, by 0.01, "share"), "Meeting point", "Where the two tints meet: farther towards the lights (above zero) or the darks.";
    }
}

step! {
    /// What the print gets in darks and lights apart.
    Tones = "tones", "Printing by tone", point, on,
    "Prints darks and lights apart, as a hand under the printing light does: black and white stay where they are, and what lies between follows smoothly." {
        darks: number(0.0, neutral 0.0, -2.0, 2.0, by 0.05, "stops"), "Dark half", "Lightens (above zero) or darkens it, black last.";
        lights: number(0.0, neutral 0.0, -2.0, 2.0, by 0.05, "stops"), "Light half", "Brings it nearer to white (above zero) or farther from it, in stops of what it lacks to white.";
    }
}

step! {
    /// Colours turned along the circle of hues.
    Bearings = "bearings", "Hue bearings", point, on,
    "Turns colours along the circle of hues, or makes them purer, around three bearings. Each reaches 60 degrees to either side and fades; greys stay." {
        hue_1: number(25.0, neutral 25.0, 0.0, 360.0, by 1.0, "deg"), "Bearing 1", "Where on the circle: 0 is red, 60 yellow, 120 green, 180 cyan, 240 blue, 300 magenta.";
        turn_1: number(0.0, neutral 0.0, -25.0, 25.0, by 0.5, "deg"), "Turn 1", "How far colours there are turned, towards higher places above zero.";
        purity_1: number(1.0, neutral 1.0, 0.0, 2.0, by 0.01, "x"), "Purity 1", "Times their distance from grey.";
        hue_2: number(130.0, neutral 130.0, 0.0, 360.0, by 1.0, "deg"), "Bearing 2", "The second bearing.";
        turn_2: number(0.0, neutral 0.0, -25.0, 25.0, by 0.5, "deg"), "Turn 2", "How far colours there are turned.";
        purity_2: number(1.0, neutral 1.0, 0.0, 2.0, by 0.01, "x"), "Purity 2", "Times their distance from grey.";
        hue_3: number(220.0, neutral 220.0, 0.0, 360.0, by 1.0, "deg"), "Bearing 3", "The third bearing.";
        turn_3: number(0.0, neutral 0.0, -25.0, 25.0, by 0.5, "deg"), "Turn 3", "How far colours there are turned.";
        purity_3: number(1.0, neutral 1.0, 0.0, 2.0, by 0.01, "x"), "Purity 3", "Times their distance from grey.";
    }
}

step! {
    /// Colour made denser.
    DyeDensity = "dye_density", "Dye density", point, on,
    "Makes colour denser rather than brighter: saturated colours get darker, greys stay." {
        whole: number(0.0, neutral 0.0, -1.0, 1.0, by 0.01, "density"), "All", "All hues alike.";
        red: number(0.0, neutral 0.0, -1.0, 1.0, by 0.01, "density"), "At red", "Around red, fading towards its neighbours on the circle of hues.";
        yellow: number(0.0, neutral 0.0, -1.0, 1.0, by 0.01, "density"), "At yellow", "Around yellow, fading towards its neighbours on the circle of hues.";
        green: number(0.0, neutral 0.0, -1.0, 1.0, by 0.01, "density"), "At green", "Around green, fading towards its neighbours on the circle of hues.";
        cyan: number(0.0, neutral 0.0, -1.0, 1.0, by 0.01, "density"), "At cyan", "Around cyan, fading towards its neighbours on the circle of hues.";
        blue: number(0.0, neutral 0.0, -1.0, 1.0, by 0.01, "density"), "At blue", "Around blue, fading towards its neighbours on the circle of hues.";
        magenta: number(0.0, neutral 0.0, -1.0, 1.0, by 0.01, "density"), "At magenta", "Around magenta, fading towards its neighbours on the circle of hues.";
    }
}

step! {
    /// Saturation about grey.
    Saturation = "saturation", "Saturation", point, on,
    "Moves colours away from or towards grey of the same lightness." {
        saturation: number(1.0, neutral 1.0, 0.0, 2.0, by 0.01, "x"), "Saturation", "1 leaves colours as they are.";
        dark: number(1.0, neutral 1.0, 0.0, 2.0, by 0.01, "x"), "In the darks", "Times that, towards black.";
        light: number(1.0, neutral 1.0, 0.0, 2.0, by 0.01, "x"), "In the lights", "Times that, towards white.";
    }
}

step! {
    /// Skin kept from what other colours go through.
    SkinGuard = "skin_guard", "Skin guard", point, off,
    "What has the colour of skin keeps its hue and density while split tone, hue bearings, dye density and saturation change the rest." {
        strength: number(0.8, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Strength", "How much of its colour skin is given back.";
    }
}

stage! {
    /// Everything done on the scan.
    Scan = "scan", "Scan",
    "The scanner reads the negative's density as flat log code, turned the right way round. All the film's range is in it, waiting to be given contrast." {
        points: Points,
        contrast: Contrast,
        curves: Curves,
        tones: Tones,
        split_tone: SplitTone,
        bearings: Bearings,
        dye_density: DyeDensity,
        saturation: Saturation,
        skin_guard: SkinGuard,
    }
}
