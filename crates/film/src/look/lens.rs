//! Lens: what happens to light before it meets the film.

use super::macros::{control, stage, step};

step! {
    /// A linear gain on scene light.
    Exposure = "exposure", "Exposure", point, on,
    "How much light reaches the film. More light makes a denser negative with finer shadows." {
        stops: number(0.0, neutral 0.0, -6.0, 6.0, by 0.05, "stops"), "Exposure", "Opens (above zero) or closes the lens.";
    }
}

step! {
    /// The early, accurate white balance: an adaptation in scene light.
    Light = "light", "Light balance", point, on,
    "The accurate balance, before the film: scene light is adapted so that what stood in this light is neutral at every brightness, and the film answers as if it had been lit so. Printer points, on the scan, push a colour into the picture instead." {
        kelvin: number(5500.0, neutral 5500.0, 2000.0, 12000.0, by 50.0, "K", Mired), "Light", "Colour temperature of the light that is to become neutral.";
        tint: number(0.0, neutral 0.0, -0.03, 0.03, by 0.0005, "Duv"), "Tint", "How green (above zero) or pink (below) that light is.";
    }
}

step! {
    /// A diffusion filter before the lens.
    Diffusion = "diffusion", "Diffusion", texture, off,
    "A mist filter before the lens: some of the light strays widely and lays a halo around every bright thing." {
        strength: number(0.15, neutral 0.0, 0.0, 0.6, by 0.01, "share"), "Strength", "The share of the light that strays.";
        reach: number(4.0, neutral 4.0, 0.5, 25.0, by 0.1, "% of diagonal", Ratio), "Reach", "How far it strays, in parts of the picture's diagonal.";
        shadow_hold: number(0.3, neutral 0.3, 0.0, 1.0, by 0.01, "share"), "Shadow hold", "Keeps the veil off the blacks, as a black mist filter does.";
        ceiling: number(12.0, neutral 12.0, 1.0, 12.0, by 0.1, "stops"), "Ceiling", "Light above this, in stops over mid-grey, strays no more than light of that brightness, so a bright window keeps its shape; 12 is no ceiling.";
    }
}

step! {
    /// Even stray light.
    Flare = "flare", "Veiling flare", point, off,
    "Glass and barrel throw a little of the light about, and it comes to the film evenly: blacks lift, colours there pale. A diffusion filter gathers light around lamps; this lies over all of the frame." {
        share: number(0.02, neutral 0.0, 0.0, 0.2, by 0.002, "share"), "Share", "The share of the light that is thrown about: .01 to .03 for a good lens, more against the sun.";
        light: number(0.0, neutral 0.0, -3.0, 5.0, by 0.1, "stops"), "Frame's light", "How bright the frame is on average, in stops from mid-grey. It is stated and not measured, so that tables can hold it and clips stay even.";
    }
}

step! {
    /// Red and blue drawn larger or smaller than green.
    Fringe = "fringe", "Chromatic fringe", texture, off,
    "A lens draws red and blue a little larger or smaller than green: edges away from the middle get coloured seams." {
        red: number(-8.0, neutral 0.0, -40.0, 40.0, by 0.5, "um"), "Red", "How far red lies outside (above zero) or inside of green at the picture's corner, on the film.";
        blue: number(10.0, neutral 0.0, -40.0, 40.0, by 0.5, "um"), "Blue", "How far blue lies outside (above zero) or inside of green at the picture's corner, on the film.";
    }
}

step! {
    /// Light that falls off towards the corners.
    Vignette = "vignette", "Vignette", texture, off,
    "Light falls off towards the corners: as the angle of view brings it, and as a mask held by hand would." {
        natural: number(1.0, neutral 0.0, 0.0, 2.0, by 0.05, "x"), "Natural", "Times the fall-off that the angle of view brings by itself.";
        field: number(47.0, neutral 47.0, 10.0, 100.0, by 1.0, "deg"), "Angle of view", "Across the picture's diagonal; a normal lens has 47 degrees.";
        stops: number(0.3, neutral 0.0, -1.5, 3.0, by 0.05, "stops"), "Corners", "Darkens the corners besides; below zero it lightens them.";
    }
}

step! {
    /// A film that lies elsewhere in the gate for every frame.
    Weave = "weave", "Gate weave", texture, off,
    "For clips: in the camera's gate every frame lies a little elsewhere and bulges a little otherwise. It follows the frame's number; on a photo it is one small move." {
        sideways: number(8.0, neutral 0.0, 0.0, 40.0, by 0.5, "um"), "Sideways", "How far frames lie to the side on the film, as a root mean square.";
        upright: number(5.0, neutral 0.0, 0.0, 40.0, by 0.5, "um"), "Up and down", "How far frames lie up or down on the film, as a root mean square.";
        breathing: number(0.0, neutral 0.0, 0.0, 30.0, by 0.5, "um"), "Breathing", "How far the picture's corners go out and in as the film bulges, as a root mean square.";
        slowness: number(3.0, neutral 3.0, 0.0, 24.0, by 0.5, "frames"), "Slowness", "For how many frames the film stays about where it is; 0 is a place of its own for every frame.";
        seed: whole(1.0, 0.0, 999_999.0, ""), "Seed", "Another number moves it otherwise.";
    }
}

stage! {
    /// The steps before the film.
    Lens = "lens", "Lens",
    "Glass and filters shape the light before any chemistry does. What strays here has already strayed when the film sees it, so highlights bloom before they are compressed." {
        exposure: Exposure,
        light: Light,
        flare: Flare,
        diffusion: Diffusion,
        fringe: Fringe,
        vignette: Vignette,
        weave: Weave,
    }
}
