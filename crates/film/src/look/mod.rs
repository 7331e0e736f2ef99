//! The look: lens, negative, scan and print settings, as data. Frames and deliveries beside it.
//!
//! Every step has `on` and `amount` and its controls; each is described once (see [`describe`])
//! and everything else follows: JSON, schema, page, command line, docs.

mod canonical;
mod describe;
mod intake;
mod json;
mod lens;
pub(crate) mod macros;
mod negative;
mod old;
mod print;
mod scan;
mod schema;
mod screen;
mod stock_choice;

pub use describe::{
    AMOUNT_MAX, ChoiceOption, Control, Field, Kind, Options, Scale, Step, StepSpec, Value,
    effective_amount,
};
pub use intake::{Frame, Source, Trim};
pub use json::{LOOK_VERSION, MODEL_VERSION};
pub use lens::{Diffusion, Exposure, Flare, Fringe, Lens, Light, Vignette, Weave};
pub use negative::{
    Backing, Balance, ContrastFilter, Development, Dust, Edge, Flash, Flicker, Gauge, Grain,
    Halation, HalationMethod, Interimage, Negative, Softness, StartingStock, Stock,
};
pub use print::{Base, Positive, PositiveClass, Print, White, WhitePoint};
pub use scan::{
    Bearings, Contrast, Curves, DyeDensity, Points, Saturation, Scan, SkinGuard, SplitTone, Tones,
};
pub use schema::{catalogue, json_schema};
pub use screen::{Before, CodeRange, Delivery, Display};
pub use stock_choice::StockChoice;

use macros::options;

/// A stage of the light path and its steps. Implemented by `stage!`.
pub trait Stage {
    /// Key in files.
    const ID: &'static str;
    /// Label on screen.
    const LABEL: &'static str;
    /// Two plain sentences on what happens here in photographed film.
    const ABOUT: &'static str;
    /// Its steps, in the order in which light meets them.
    fn steps(&self) -> Vec<&dyn Step>;
    /// The same, to change.
    fn steps_mut(&mut self) -> Vec<&mut dyn Step>;
}

options! {
    /// The six stages of the light path.
    StageId {
        Intake = "intake", "Intake";
        Lens = "lens", "Lens";
        Negative = "negative", "Negative";
        Scan = "scan", "Scan";
        Print = "print", "Print";
        Screen = "screen", "Screen";
    }
}

impl StageId {
    /// The unit of the numbers as they leave the stage.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Intake | Self::Lens => "scene light (0.18 is mid-grey)",
            Self::Negative => "density above base",
            Self::Scan => "log code, of 1",
            Self::Print => "display light (1 is the print's white)",
            Self::Screen => "screen code, of 1",
        }
    }
}

/// A look: everything between the lens and the viewed print.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Look {
    /// The look's name, one line.
    pub name: String,
    /// What it is for.
    pub note: String,
    /// Before the film.
    pub lens: Lens,
    /// On the film.
    pub negative: Negative,
    /// On the scan.
    pub scan: Scan,
    /// From the scan to the viewed picture.
    pub print: Print,
}

impl Look {
    /// The starting look of a stock: already a soft, dense film scan brought to a picture.
    pub fn starting(stock: impl Into<StockChoice>) -> Self {
        let stock = stock.into();
        let mut look = Self::default();
        look.negative.stock.balance = stock.balance;
        look.negative.stock.speed = stock.speed;
        look.name = format!("{} start", stock.name());
        look
    }

    /// The same look with every step of the texture part turned off.
    #[must_use]
    pub fn without_texture(&self) -> Self {
        let mut look = self.clone();
        look.for_each_step(|step| {
            if step.spec().texture {
                step.set_on(false);
            }
        });
        look
    }

    /// Whether any step of the texture part acts.
    pub fn has_texture(&self) -> bool {
        self.all_steps()
            .any(|step| step.spec().texture && effective_amount(step) > 0.0)
    }

    /// Turns all steps of one stage off: how the picture looks without it.
    pub fn bypass(&mut self, stage: StageId) {
        let steps = match stage {
            StageId::Lens => self.lens.steps_mut(),
            StageId::Negative => self.negative.steps_mut(),
            StageId::Scan => self.scan.steps_mut(),
            StageId::Print => self.print.steps_mut(),
            StageId::Intake | StageId::Screen => return,
        };
        for step in steps {
            step.set_on(false);
        }
    }

    /// Whether every step is off: such a look leaves the picture as the camera saw it.
    pub fn is_bypassed(&self) -> bool {
        !self.all_steps().any(|step| step.is_on())
    }

    /// Every step, from lens to print.
    fn all_steps(&self) -> impl Iterator<Item = &dyn Step> {
        let stages = [
            self.lens.steps(),
            self.negative.steps(),
            self.scan.steps(),
            self.print.steps(),
        ];
        stages.into_iter().flatten()
    }

    /// Calls `f` on every step, from lens to print.
    pub fn for_each_step(&mut self, mut f: impl FnMut(&mut dyn Step)) {
        let stages = [
            self.lens.steps_mut(),
            self.negative.steps_mut(),
            self.scan.steps_mut(),
            self.print.steps_mut(),
        ];
        for step in stages.into_iter().flatten() {
            f(step);
        }
    }
}

#[cfg(test)]
mod tests;
