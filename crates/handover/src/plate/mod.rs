//! Plates: what grain, dust or halation change in a picture, as pictures of their own, for who works
//! from tables. The command line, the page and packs make them here, so that the same question gets
//! the same bytes.
//!
//! A plate is half a difference of code around 0.5, for one place where code can be reached: after the
//! whole table, or on the film scan between its two halves. Grain and dust are drawn over the grey
//! where they show most; how much less they show at any other code says a table of their own
//! ([`Gain`]), since a print hides in its blacks most of the grain that a scan has:
//!
//! ```text
//! grain, dust   picture + gain(picture) x (2 x plate - 1)
//! halation      picture + 2 x plate - 1, for the picture that it was made from
//! ```

mod bundle;
mod difference;
mod gain;
mod over_grey;
mod ramps;

use lookwright_colour::{Error, Result};
use lookwright_film::look::{
    ChoiceOption, Delivery, Frame, Look, Options, StageId, effective_amount,
};
use lookwright_film::spatial::Window;
use lookwright_picture::{Decoded, Limits};
use lookwright_render::Job;

use crate::baked::screen_words;
use difference::difference;
pub use gain::{Gain, GainPoint};
pub use over_grey::OverGrey;
pub use ramps::Ramps;

/// Longest edge of a plate in pixels.
const EDGE_MAX: u32 = 16_384;

/// Which texture a plate holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlateKind {
    /// Grain, a plate for each number of a sequence.
    Grain,
    /// Dust, a plate for each number of a sequence.
    Dust,
    /// Halation, which is one picture's own.
    Halation,
}

impl Options for PlateKind {
    const OPTIONS: &'static [ChoiceOption] = &[
        ChoiceOption {
            id: "grain",
            label: "Grain",
        },
        ChoiceOption {
            id: "dust",
            label: "Dust",
        },
        ChoiceOption {
            id: "halation",
            label: "Halation",
        },
    ];
    const ALL: &'static [Self] = &[Self::Grain, Self::Dust, Self::Halation];
    fn id(self) -> &'static str {
        Self::OPTIONS[self as usize].id
    }
}

/// Where plates are laid.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PlateOn {
    /// On the picture after the whole table.
    #[default]
    Picture,
    /// On the finished scan, between the table to it and the table from it.
    FilmScan,
}

impl Options for PlateOn {
    const OPTIONS: &'static [ChoiceOption] = &[
        ChoiceOption {
            id: "picture",
            label: "the picture after the table",
        },
        ChoiceOption {
            id: "film-scan",
            label: "the film scan, between the two halves of the table",
        },
    ];
    const ALL: &'static [Self] = &[Self::Picture, Self::FilmScan];
    fn id(self) -> &'static str {
        Self::OPTIONS[self as usize].id
    }
}

/// Which plates are wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateRecipe {
    /// The look.
    pub look: Look,
    /// The texture.
    pub kind: PlateKind,
    /// Where they are laid.
    pub on: PlateOn,
    /// The screen's code; without meaning on the film scan.
    pub delivery: Delivery,
}

impl PlateRecipe {
    /// Whether the look has such a texture.
    #[must_use]
    pub fn is_in_look(&self) -> bool {
        let mut found = false;
        self.look.clone().for_each_step(|step| {
            found |= step.spec().id == self.kind.id() && effective_amount(step) > 0.0;
        });
        found
    }

    /// The place in file names: `rec709-full`, or `film-scan`.
    #[must_use]
    pub fn place(&self) -> String {
        let display = &self.delivery.display;
        match self.on {
            PlateOn::Picture => format!("{}-{}", display.screen.id(), display.range.id()),
            PlateOn::FilmScan => self.on.id().to_owned(),
        }
    }

    /// The place for people.
    #[must_use]
    pub fn place_words(&self) -> String {
        let label = PlateOn::OPTIONS[self.on as usize].label;
        match self.on {
            PlateOn::Picture => format!("{label} ({})", screen_words(&self.delivery)),
            PlateOn::FilmScan => label.to_owned(),
        }
    }

    /// What is laid how.
    #[must_use]
    pub fn formula(&self) -> &'static str {
        match self.kind {
            PlateKind::Grain | PlateKind::Dust => "picture + gain(picture) x (2 x plate - 1)",
            PlateKind::Halation => "picture + 2 x plate - 1",
        }
    }

    /// How a plate is laid, in a sentence; also written inside its file.
    #[must_use]
    pub fn blend(&self) -> String {
        let kind = PlateKind::OPTIONS[self.kind as usize].label;
        let gain = match self.kind {
            PlateKind::Halation => "for the picture that it was made from and no other",
            _ => "gain is the 1D table beside the plates, read at the picture's own code",
        };
        format!(
            "{kind}, laid on {}: {}, channel by channel, in code held to 0 ... 1; {gain}.",
            self.place_words(),
            self.formula()
        )
    }

    /// Halation's plate of a picture that is read so: a PNG of 16 bits.
    ///
    /// # Errors
    /// One sentence if the look has none, or the picture is too big.
    pub fn over_picture(&self, picture: &Decoded, frame: &Frame) -> Result<Vec<u8>> {
        let size = (picture.width, picture.height);
        check_size(size, picture.samples.byte_count())?;
        self.check_frame(frame)?;
        self.check_look()?;
        let job = self.job(frame.clone(), size, 0);
        difference(picture, &job, [1.0; 3], &self.blend())
    }

    /// Accepts a camera's picture.
    ///
    /// # Errors
    /// One sentence if it is a film scan.
    fn check_frame(&self, frame: &Frame) -> Result<()> {
        if frame.source.encoding.scan_density().is_none() {
            return Ok(());
        }
        Err(Error::new(format!(
            "a film scan has its own {}; choose the encoding of a camera's picture",
            self.kind.id()
        )))
    }

    /// Accepts a look that has the texture.
    ///
    /// # Errors
    /// One sentence if it has not.
    fn check_look(&self) -> Result<()> {
        if self.is_in_look() {
            return Ok(());
        }
        let word = self.kind.id();
        Err(Error::new(format!(
            "this look has no {word}; turn it on and try again"
        )))
    }

    /// The look with this texture and no other.
    fn alone(&self) -> Look {
        let mut look = self.look.clone();
        look.for_each_step(|step| {
            if step.spec().texture && step.spec().id != self.kind.id() {
                step.set_on(false);
            }
        });
        look
    }

    fn job(&self, frame: Frame, (width, height): (u32, u32), frame_number: u32) -> Job {
        Job {
            look: self.alone(),
            frame,
            delivery: self.delivery.clone(),
            stage: match self.on {
                PlateOn::Picture => StageId::Screen,
                PlateOn::FilmScan => StageId::Scan,
            },
            window: Window::whole(width as usize, height as usize),
            frame_number,
        }
    }
}

/// Accepts a plate's size; `held` are the bytes of the picture below it, if there is one.
///
/// # Errors
/// One sentence if it is empty or too big.
pub fn check_size((width, height): (u32, u32), held: u64) -> Result<()> {
    let edges = 1..=EDGE_MAX;
    if !edges.contains(&width) || !edges.contains(&height) {
        return Err(Error::new(format!(
            "plates have edges of 1 to {EDGE_MAX} pixels; asked for was {width} x {height}"
        )));
    }
    // The file, which noise leaves at 6 bytes for a pixel, once while it grows and once as it is kept,
    // and strips.
    let bytes = u64::from(width) * u64::from(height) * 14 + held;
    let most = Limits::default().max_bytes;
    if bytes > most {
        return Err(Error::new(format!(
            "a plate of {width} x {height} pixels would take {} MiB of memory; {} MiB are allowed: \
             make a smaller one",
            bytes >> 20,
            most >> 20
        )));
    }
    Ok(())
}

#[cfg(test)]
mod tests;
