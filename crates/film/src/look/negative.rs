//! Negative: what the film does with the light, until it is developed.

use super::macros::{control, options, stage, step};

options! {
    /// What a negative is balanced for, or what its one emulsion sees.
    Balance {
        Lamp = "lamp", "Lamp, 3200 K";
        Day = "day", "Day, 5500 K";
        Panchromatic = "panchromatic", "Panchromatic";
        Orthochromatic = "orthochromatic", "Orthochromatic";
    }
}

options! {
    /// A named stock to start from.
    StartingStock {
        Evening = "evening", "Evening: lamp 500";
        Overcast = "overcast", "Overcast: day 320";
        Noon = "noon", "Noon: day 40";
        AllGrey = "all-grey", "All grey: panchromatic 250";
        RedBlind = "red-blind", "Red-blind: orthochromatic 50";
    }
}

impl StartingStock {
    /// What it is balanced for.
    pub const fn balance(self) -> Balance {
        match self {
            Self::Evening => Balance::Lamp,
            Self::Overcast | Self::Noon => Balance::Day,
            Self::AllGrey => Balance::Panchromatic,
            Self::RedBlind => Balance::Orthochromatic,
        }
    }

    /// Its speed, ISO.
    pub const fn speed(self) -> f64 {
        match self {
            Self::Evening => 500.0,
            Self::Overcast => 320.0,
            Self::Noon => 40.0,
            Self::AllGrey => 250.0,
            Self::RedBlind => 50.0,
        }
    }
}

options! {
    /// The film's format: the width of the picture on it.
    Gauge {
        Gauge8 = "8", "8 mm";
        Gauge16 = "16", "16 mm";
        Super16 = "super-16", "Super 16";
        Gauge35 = "35", "35 mm";
        Super35 = "super-35", "Super 35";
        Gauge65 = "65", "65 mm";
    }
}

options! {
    /// A contrast filter before black-and-white film.
    ContrastFilter {
        None = "none", "None";
        LightRed = "light-red", "Light red";
        Yellow = "yellow", "Yellow";
        Green = "green", "Green";
    }
}

step! {
    /// The film stock: its layers' colour sensitivity and its balance.
    Stock = "stock", "Stock", point, on,
    "The film in the camera. Its amount mixes the stock's own character over a plain negative of the same contrast." {
        balance: choice(Balance, Day), "Balance", "The light in which greys come out grey: lamps or day. Black-and-white film sees all colours, or all but red.";
        speed: number(320.0, neutral 320.0, 25.0, 1600.0, by 1.0, "ISO", Ratio), "Speed", "Fast film is grainier, softer in contrast and colour, and forgives more; slow film is fine, dense and vivid.";
        gauge: choice(Gauge, Super35), "Gauge", "The film's format. A smaller one is enlarged more, and so are its grain and halation.";
        scene_light: number(5500.0, neutral 5500.0, 2500.0, 10000.0, by 50.0, "K", Mired), "Scene light", "The light that the scene's greys stood in. A stock is neutral under its own light and takes a cast under another.";
        timed: number(0.8, neutral 1.0, 0.0, 1.0, by 0.01, "share"), "Cast removed", "The share of that cast which the scan's set-up takes out.";
        filter: choice(ContrastFilter, None), "Filter", "A contrast filter before black-and-white film.";
    }
}

step! {
    /// A weak even exposure of the whole film.
    Flash = "flash", "Flash", point, off,
    "A weak even light over the whole film, before or after the shot: shadows open and take its colour, lights hardly notice." {
        level: number(-4.0, neutral -4.0, -8.0, -1.0, by 0.1, "stops"), "Level", "How much light, in stops from mid-grey.";
        hue: number(220.0, neutral 220.0, 0.0, 360.0, by 1.0, "deg"), "Hue", "The light's hue.";
        colour: number(0.0, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Colour", "How coloured the light is: 0 is white.";
    }
}

step! {
    /// Halation: light that comes back from behind the film.
    Halation = "halation", "Halation", texture, on,
    "Bright light passes through the film, is thrown back from behind and exposes it a second time, mostly in the red layer." {
        method: choice(HalationMethod, RedScatter), "Method", "Which way the stray light takes: reflected at the back of the base, scattered near the red layer, or spread as a veil.";
        backing: choice(Backing, Black), "Backing", "What lies behind the film: a black backing, washed off in development, sends back next to nothing; a grey undercoat about a sixth; nothing at all lets all of it come back.";
        strength: number(0.2, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Strength", "The share of the light that comes back if nothing lies behind the film.";
        onset: number(2.5, neutral 2.5, -6.0, 8.0, by 0.1, "stops"), "Onset", "Where it begins, in stops above mid-grey.";
        reach: number(70.0, neutral 70.0, 5.0, 1000.0, by 1.0, "um", Ratio), "Reach", "How far it goes on the film.";
        red: number(1.0, neutral 1.0, 0.0, 1.0, by 0.01, "share"), "Red layer", "The red layer's share.";
        green: number(0.3, neutral 0.3, 0.0, 1.0, by 0.01, "share"), "Green layer", "The green layer's share.";
        blue: number(0.04, neutral 0.04, 0.0, 1.0, by 0.01, "share"), "Blue layer", "The blue layer's share.";
        base: number(127.0, neutral 127.0, 50.0, 250.0, by 1.0, "um"), "Base thickness", "Thickness of the film's base: sets the ring's radius.";
        index: number(1.48, neutral 1.48, 1.3, 1.8, by 0.005, "n"), "Base index", "Refractive index of the base: acetate 1.48, polyester up to 1.64.";
        back_density: number(0.3, neutral 0.3, 0.0, 2.0, by 0.05, "density"), "Back density", "Density of the base and its backing, which dims the light on its way back.";
    }
}

options! {
    /// What keeps light from coming back.
    Backing {
        Black = "black", "Removable black";
        Undercoat = "undercoat", "Undercoat";
        None = "none", "None";
    }
}

options! {
    /// Three ways for light to come back, of different physics.
    HalationMethod {
        BaseRing = "base-ring", "Base ring";
        RedScatter = "red-scatter", "Red scatter";
        Veil = "veil", "Veil";
    }
}

step! {
    /// The emulsion's own spread of light.
    Softness = "softness", "Softness", texture, on,
    "Light spreads a little inside the emulsion, farthest in the lowest layer, which is the red one." {
        spread: number(1.0, neutral 0.0, 0.0, 4.0, by 0.05, "x"), "Spread", "Times the stock's own spread.";
    }
}

step! {
    /// Development: normal, pushed or pulled.
    Development = "development", "Development", point, on,
    "Longer development (a push) lifts contrast, fog and grain, the blue layer most, so that shadows and highlights take opposite tints; shorter development (a pull) softens them." {
        push: number(0.0, neutral 0.0, -2.0, 3.0, by 0.1, "stops"), "Push", "Pushed (above zero) or pulled, in stops.";
        wrong_kind: number(0.0, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Wrong kind", "Crosses the process: film of one kind in the chemistry of the other. Contrast rises unevenly, so darks and lights take opposite tints.";
        silver: number(0.0, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Bleach left out", "The share of the silver that stays in the negative: more contrast, and less colour beside it. Film of one emulsion, whose picture is silver, stays as it is.";
    }
}

step! {
    /// Interimage effects: one layer's development holds back its neighbours.
    Interimage = "interimage", "Interimage", point, on,
    "Where one layer develops, it holds back its neighbours: this is what separates colours. Greys stay grey." {
        separation: number(1.0, neutral 0.0, 0.0, 2.5, by 0.05, "x"), "Separation", "Times the stock's own separation.";
    }
}

step! {
    /// The edge effect: development holds itself back in its surroundings.
    Edge = "edge", "Edge effect", texture, on,
    "What development leaves behind spreads a little and holds back what develops beside it, so edges gain contrast. Even areas stay as they are." {
        strength: number(1.0, neutral 0.0, 0.0, 3.0, by 0.05, "x"), "Strength", "Times the stock's own edge effect.";
        reach: number(1.0, neutral 1.0, 0.25, 4.0, by 0.05, "x", Ratio), "Reach", "Times the stock's own reach of it, a fiftieth of a millimetre.";
    }
}

step! {
    /// Grain: the dye clouds that the picture is made of.
    Grain = "grain", "Grain", texture, on,
    "The picture is made of clouds of dye. They belong to the film, so their size follows the gauge and not the pixels." {
        strength: number(1.0, neutral 0.0, 0.0, 3.0, by 0.05, "x"), "Strength", "Times the stock's own granularity.";
        size: number(1.0, neutral 1.0, 0.4, 4.0, by 0.05, "x", Ratio), "Size", "Times the stock's own grain size.";
        colour: number(0.7, neutral 0.7, 0.0, 1.0, by 0.01, "share"), "Colour", "How far the layers' grains differ: 0 is neutral grain, 1 fully coloured.";
        seed: whole(1.0, 0.0, 999_999.0, ""), "Seed", "Another number gives another pattern.";
    }
}

step! {
    /// Dust on the negative.
    Dust = "dust", "Dust", texture, off,
    "Specks and hairs lie on the negative and block the printing light, so they come out light." {
        rate: number(12.0, neutral 0.0, 0.0, 200.0, by 1.0, "per frame"), "Rate", "How many specks lie on a frame.";
        size: number(25.0, neutral 25.0, 5.0, 150.0, by 1.0, "um", Ratio), "Size", "The typical size of a speck on the film.";
        hairs: number(0.15, neutral 0.15, 0.0, 1.0, by 0.01, "share"), "Hairs", "The share of hairs among them.";
        softness: number(4.0, neutral 4.0, 0.0, 40.0, by 0.5, "um"), "Softness", "How far they lie out of focus.";
        seed: whole(1.0, 0.0, 999_999.0, ""), "Seed", "Another number lays them elsewhere.";
    }
}

step! {
    /// A reading light that differs from frame to frame.
    Flicker = "flicker", "Flicker", texture, off,
    "For clips: the light that reads the film is a little brighter or dimmer for every frame. It follows the frame's number; on a photo it is one small change of density." {
        density: number(0.01, neutral 0.0, 0.0, 0.1, by 0.001, "density"), "Density", "How far frames differ, in density, as a root mean square: .01 is five codes of the scan.";
        slowness: number(0.0, neutral 0.0, 0.0, 24.0, by 0.5, "frames"), "Slowness", "For how many frames the light stays about what it is; 0 is a light of its own for every frame.";
        seed: whole(1.0, 0.0, 999_999.0, ""), "Seed", "Another number changes it otherwise.";
    }
}

stage! {
    /// The film, from exposure to developed density.
    Negative = "negative", "Negative",
    "Three layers record red, green and blue light as dye: the more light, the denser. Halation, grain and dust belong here, before the scan, because the film has them before anybody looks." {
        stock: Stock,
        flash: Flash,
        halation: Halation,
        softness: Softness,
        development: Development,
        interimage: Interimage,
        edge: Edge,
        grain: Grain,
        dust: Dust,
        flicker: Flicker,
    }
}
