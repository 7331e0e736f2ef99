//! Screen: how the picture is delivered. It belongs to a delivery, not to the look.

use super::macros::{control, options, stage, step};
use super::{ChoiceOption, Options};
use lookwright_colour::encoding::ScreenId;

options! {
    /// How the frame is shown where no look is on it.
    Before {
        Soft = "soft", "Neutral, soft top";
        Hard = "hard", "Hard clip";
    }
}

options! {
    /// How a picture's codes fill the scale.
    CodeRange {
        Full = "full", "Full";
        Legal = "legal", "Legal (64 to 940 of 1023)";
    }
}

impl Options for ScreenId {
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

step! {
    /// The display that the picture is made for.
    Display = "display", "Display", point, on,
    "Writes the picture in the code that a kind of screen expects." {
        screen: choice(ScreenId, Rec709), "Screen", "The kind of screen. A page shows what is made for theatres and for high dynamic range as Rec.709 would.";
        range: choice(CodeRange, Full), "Range", "Whether the codes span the whole scale or its legal part.";
        before: choice(Before, Soft), "Before", "How the frame is shown without the look: as a camera's own neutral rendering, whose whites bend, or as bare light cut off at white.";
    }
}

stage! {
    /// Everything that belongs to one delivery.
    Delivery = "screen", "Screen",
    "A screen is told numbers too. The same picture is written in the code of the screen that will show it." {
        display: Display,
    }
}
