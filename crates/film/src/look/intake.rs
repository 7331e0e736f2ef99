//! Intake: what a frame is and how it is corrected. It belongs to the frame, not to the look.

use super::macros::{control, stage, step};
use super::{ChoiceOption, Options};
use lookwright_colour::encoding::{EncodingId, Range};

impl Options for EncodingId {
    const OPTIONS: &'static [ChoiceOption] = &{
        let mut options = [ChoiceOption { id: "", label: "" }; Self::ALL.len()];
        let mut place = 0;
        while place < options.len() {
            let info = Self::ALL[place].info();
            options[place] = ChoiceOption {
                id: info.id,
                label: info.label,
            };
            place += 1;
        }
        options
    };
    const ALL: &'static [Self] = &Self::ALL;
    fn id(self) -> &'static str {
        self.info().id
    }
}

impl Options for Range {
    const OPTIONS: &'static [ChoiceOption] = &[
        ChoiceOption {
            id: "full",
            label: "Full",
        },
        ChoiceOption {
            id: "legal",
            label: "Legal (64 to 940 of 1023)",
        },
        ChoiceOption {
            id: "expanded",
            label: "Legal, expanded by a decoder",
        },
    ];
    const ALL: &'static [Self] = &Self::ALL;
    fn id(self) -> &'static str {
        Self::id(self)
    }
}

step! {
    /// How the frame's code becomes scene light.
    Source = "source", "Source", point, on,
    "Takes the camera's code to scene light: its curve is undone and its primaries become the working ones." {
        encoding: choice(EncodingId, Srgb), "Encoding", "The curve and primaries that the frame was recorded with.";
        range: choice(Range, Full), "Range", "Whether the file's codes span the whole scale or the legal part of it, or were stretched by a video decoder.";
        unrender: number(1.0, neutral 0.0, 0.0, 1.0, by 0.01, "share"), "Un-render", "For finished photos, and nothing else: undoes the bends that a camera's own rendering puts into highlights and shadows, so that film has light to work on.";
    }
}

step! {
    /// The shot's own correction, never exported with the look.
    Trim = "trim", "Trim", point, on,
    "Corrects this shot before the look begins, so that one look serves many shots." {
        exposure: number(0.0, neutral 0.0, -6.0, 6.0, by 0.05, "stops"), "Exposure", "Brightens or darkens the shot in scene light.";
        kelvin: number(5500.0, neutral 5500.0, 2000.0, 12000.0, by 50.0, "K", Mired), "Light", "The light that made this shot's whites; choosing it makes them neutral.";
        tint: number(0.0, neutral 0.0, -0.03, 0.03, by 0.0005, "Duv"), "Tint", "How green (above zero) or pink (below) that light was.";
    }
}

stage! {
    /// Everything that belongs to one frame.
    Frame = "intake", "Intake",
    "The camera wrote numbers, not light. Undoing its curve gives back what stood before the lens: twice the number is twice the light." {
        source: Source,
        trim: Trim,
    }
}
