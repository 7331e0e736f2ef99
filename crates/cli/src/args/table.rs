//! What `lookwright table` is told.

use std::path::PathBuf;

use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_film::look::{Options, Source};
use lookwright_film::path::scene_out::Rendering;
use lookwright_handover::Split;

use super::{DeliveryArgs, OutputArgs};
use crate::choices::{help, one_of, scene_encoding};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  lookwright table quay.json --from slog3-sgamut3cine -o quay.cube
  lookwright table quay.json --from acescg -o quay.clf
  lookwright table quay.json --from logc3 --split camera-to-scan -o quay-scan.cube
  lookwright table quay.json --from logc3 --scene acescct --undo aces -o quay-in-the-pipeline.clf

The name's ending chooses the format:
  .cube   for nearly any program; light goes through a 1D table first, which not every reader knows
  .clf    Common LUT Format; exact for light, and says how it is read between nodes
  .csp    light goes through curves first; readers choose how they read between nodes
  .spi3d  for codes alone, as it has no shaper; readers choose how they read between nodes
  .spi1d  where what is asked for is three curves that do not mix channels
  .icc    device link for still-picture programs: codes in, codes out, 16 bits; not for light
  .png    the identity lattice as a picture, for grids that are squares such as 25 or 64
  .cc     ASC CDL, where the look is one

A table carries all of a look that maps one pixel to one pixel; texture, which spreads light or lies
on the film, is not in it.")]
pub(crate) struct TableArgs {
    /// The look, a JSON file
    pub(crate) look: PathBuf,
    /// The encoding that the table takes in; not needed for scan-to-screen
    #[arg(
        long,
        value_name = "ENCODING",
        value_parser = one_of::<EncodingId>(),
        hide_possible_values = true,
        required_unless_present = "split"
    )]
    pub(crate) from: Option<EncodingId>,
    #[arg(long, help = help::<Source>("range"), default_value = Range::default().id(), value_parser = one_of::<Range>())]
    pub(crate) range: Range,
    #[command(flatten)]
    pub(crate) delivery: DeliveryArgs,
    /// The part of the light path; all of it if left out
    #[arg(long, value_parser = one_of::<Split>())]
    pub(crate) split: Option<Split>,
    /// Give scene code of this encoding in place of a screen's: for a pipeline that renders for the
    /// display itself
    #[arg(long, value_name = "ENCODING", value_parser = scene_encoding())]
    pub(crate) scene: Option<EncodingId>,
    /// The pipeline's rendering for the display, which is undone
    #[arg(long, value_name = "RENDERING", value_parser = one_of::<Rendering>(), default_value = Rendering::Plain.id(), requires = "scene")]
    pub(crate) undo: Rendering,
    /// Points along each axis, 2 to 129
    #[arg(long, default_value_t = 33)]
    pub(crate) grid: usize,
    /// File to write
    #[arg(short, long)]
    pub(crate) output: PathBuf,
    #[command(flatten)]
    pub(crate) writing: OutputArgs,
}
