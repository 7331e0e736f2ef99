//! Grain and dust plates: drawn over one grey, with the gain for all others.

use core::ops::Range;

use lookwright_colour::encoding::EncodingId;
use lookwright_colour::{Error, Result};
use lookwright_film::look::{Frame, Look, Options};
use lookwright_film::spatial::Planes;
use lookwright_render::{PictureRows, swings};
use lookwright_table::{Cube, Label, cube};

use super::gain::{Gain, STOPS};
use super::{PlateKind, PlateRecipe, check_size, difference};

/// Mid-grey in scene light.
const MID_GREY: f64 = 0.18;
/// The frame that gains are measured in: as in a sequence, whose first plate is number 1.
const MEASURED_FRAME: u32 = 1;
/// Items of dust in the frame that its gain is measured in: the most that there can be.
const MEASURED_RATE: f64 = 500.0;

/// Plates of one size, and their gain.
#[derive(Clone, Debug)]
pub struct OverGrey {
    recipe: PlateRecipe,
    size: (u32, u32),
    gain: Gain,
}

impl OverGrey {
    /// Measures the gain for plates of `size`, columns and rows.
    ///
    /// # Errors
    /// One sentence if the look has no such texture, halation is asked for, or the size is none.
    pub fn new(recipe: &PlateRecipe, size: (u32, u32)) -> Result<Self> {
        check_size(size, 0)?;
        recipe.check_look()?;
        let mut job = recipe.job(frame(), size, MEASURED_FRAME);
        // As many pixels as tell: all have grain, and few have dust.
        let (measured, per_stop) = match recipe.kind {
            PlateKind::Grain => ((64, 1), 8),
            PlateKind::Dust | PlateKind::Halation => ((512, 8), 1),
        };
        more_dust(&mut job.look);
        let greys = greys(per_stop);
        let light: Vec<f32> = greys.iter().map(|stops| light(*stops)).collect();
        let swings = swings(recipe.kind.id(), &job, measured, &light)
            .ok_or_else(|| Error::new("halation is a picture's own, and there is no picture"))?;
        Ok(Self {
            recipe: recipe.clone(),
            size,
            gain: Gain::of(&greys, &swings),
        })
    }

    /// Which plates these are.
    #[must_use]
    pub const fn recipe(&self) -> &PlateRecipe {
        &self.recipe
    }

    /// How much of a plate shows at each code.
    #[must_use]
    pub const fn gain(&self) -> &Gain {
        &self.gain
    }

    /// The plate of a number: a PNG of 16 bits.
    ///
    /// # Errors
    /// If the picture cannot be written.
    pub fn plate(&self, number: u32) -> Result<Vec<u8>> {
        let grey = Grey {
            size: self.size,
            light: light(self.gain.drawn_at()),
        };
        let job = self.recipe.job(frame(), self.size, number);
        difference(&grey, &job, self.gain.times(), &self.recipe.blend())
    }

    /// The gain as a 1D table: `.cube`.
    ///
    /// # Errors
    /// If the table cannot be written.
    pub fn gain_cube(&self) -> Result<Vec<u8>> {
        let table = Cube {
            title: None,
            comments: Vec::new(),
            curve: Some(self.gain.curve()?),
            grid: None,
        };
        let label = Label {
            title: format!(
                "{}: gain of {} plates",
                self.recipe.look.name,
                self.recipe.kind.id()
            ),
            input: format!("Code of {}", self.recipe.place_words()),
            output: "Gain of each channel, 0 to 1: a factor, no picture".to_owned(),
            notes: vec![
                format!(
                    "Lay plates so, channel by channel: {}",
                    self.recipe.formula()
                ),
                format!("Plates of {} x {} pixels.", self.size.0, self.size.1),
                format!("Made with Lookwright {}.", env!("CARGO_PKG_VERSION")),
            ],
            fingerprint: self.recipe.look.fingerprint(),
        };
        cube::write(&table, &label).map(String::into_bytes)
    }

    /// How plates are laid, with the gain as an expression and as numbers: the text beside them.
    #[must_use]
    pub fn note(&self) -> String {
        let mut text = format!("{}\n\n{}", self.recipe.blend(), HOW);
        let ramps = self.gain.ramps();
        text.push_str(&format!(
            "\nAs an expression for each channel, x the picture's code, at most {:.3} of 1 off the \
             table:\n\n",
            self.gain.most_off(&ramps)
        ));
        for (name, ramps) in ["red", "green", "blue"].iter().zip(&ramps) {
            text.push_str(&format!("{name:<6} {ramps}\n"));
        }
        text.push_str(
            "\nAs numbers, on greys of so many stops above mid-grey:\n\n\
             stops   code: red    green     blue   gain: red    green     blue\n",
        );
        for point in self.gain.points() {
            let row = |values: [f32; 3]| values.map(|v| format!("{v:.5}")).join("  ");
            text.push_str(&format!(
                "{:>5}     {}     {}\n",
                point.stops,
                row(point.code),
                row(point.gain)
            ));
        }
        text
    }
}

const HOW: &str = "\
Layer by layer: put the gain table (.cube, 1D) on a copy of the picture, which makes it a map of how
much of the plate shows. Take 0.5 from the plate and double it, multiply by that map, add to the
picture. Where layers have blends only: the plate over the picture as linear light, with the map as
the layer's matte.
Plates are PNG pictures of 16 bits: switch conversions of colour and levels off for them, and do not
reduce them to 8 bits. Scale them to the width of the picture, and run them at the clip's frame rate.
The gain is measured on greys, which match. In the strongest colours of the test chart laid grain is up
to a quarter stronger or weaker than the film's (measured), since a print mixes what its layers hold.
";

/// As much dust as there can be, so that enough of it is seen.
fn more_dust(look: &mut Look) {
    look.negative.dust.rate = MEASURED_RATE;
    look.negative.dust.amount = 1.0;
}

/// Greys are given as scene light.
fn frame() -> Frame {
    let mut frame = Frame::default();
    frame.source.encoding = EncodingId::AcesCg;
    frame
}

fn greys(per_stop: i32) -> Vec<f64> {
    let [first, last] = STOPS;
    let steps = first * per_stop..=last * per_stop;
    steps.map(|i| f64::from(i) / f64::from(per_stop)).collect()
}

fn light(stops: f64) -> f32 {
    (MID_GREY * libm::exp2(stops)) as f32
}

/// An even grey.
struct Grey {
    size: (u32, u32),
    light: f32,
}

impl PictureRows for Grey {
    fn size(&self) -> (usize, usize) {
        (self.size.0 as usize, self.size.1 as usize)
    }

    fn rows(&self, rows: Range<usize>) -> Planes {
        Planes::filled(self.size.0 as usize, rows.len(), self.light)
    }
}
