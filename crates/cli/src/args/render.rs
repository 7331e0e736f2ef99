//! What can be typed after `lookwright render`.

use std::path::PathBuf;

use clap::builder::PossibleValuesParser;
use lookwright_film::look::{Options, StageId};
use lookwright_picture::{Depth, JPEG_QUALITY, Kind, OutFormat, RAW_FORMATS};

use super::{DeliveryArgs, FrameArgs, OutputArgs};
use crate::batch::Share;
use crate::choices::one_of;
use crate::pipe::Raw;
use crate::sequence::Frames;
use crate::sequence::shot::Seed;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  lookwright render quay.json shot.tif -o shot.png --from logc3 --depth 16
  lookwright render quay.json frames/ -o out/ --from acescg
  lookwright render quay.json shot.####.exr --frames 1001-1240 -o out/print.####.tif --from logc3
  lookwright render quay.json shot.tif -o negative.exr --from logc3 --stage negative
  find . -name '*.tif' | lookwright render quay.json --list - -o out/ --from vlog
  ... | lookwright render quay.json - --raw 1920x1080:rgb16 --from logc3 -o - --format rgb16 | ...

Pictures are files, folders, and numbered patterns: #### or %04d stands for the number, with zeros to
four digits. A sequence goes into a folder, or to a file name that holds a place for each picture's
own: % is its name without the ending, #### or %04d its number; %% and %# are a percent sign and a
hash. Anything else after % is refused.

One encoding is used for all pictures. Without --from it is guessed from the files; where they would
be guessed differently, they are listed and nothing is written. Nothing that is read is ever written
over, and a file that is there already only with --overwrite, or with --resume if it is of the same
work.

Grain, dust, weave and flicker follow a picture's number and its shot, which is what stands before the number in its
name if a point, a line or a blank sets the number off. Without --depth, .jpg and .png get 8 bits, .tif 16, .exr floats.

Sequences keep a record beside their pictures, .lookwright.jsonl, which --resume reads. Exit code: 0
if every picture was written, 1 if something would not allow it, 2 if the command was not understood,
3 if --keep-going left pictures out.")]
pub(crate) struct RenderArgs {
    /// The look, a JSON file
    pub(crate) look: PathBuf,
    #[arg(
        required_unless_present = "list",
        value_name = "IN",
        help = format!(
            "Pictures, folders, numbered patterns, or - for standard input; {} are read",
            Kind::names()
        )
    )]
    pub(crate) inputs: Vec<PathBuf>,
    /// File to write, or for several pictures a folder (with --format) or a pattern such as
    /// out/%-print.png or out/print.####.png; - for standard output (with --format)
    #[arg(short, long, value_name = "OUT")]
    pub(crate) output: PathBuf,
    #[command(flatten)]
    pub(crate) writing: OutputArgs,
    /// File type of pictures that go into a folder or to standard output; there, raw frames and y4m as well
    #[arg(long, default_value = "png", value_parser = formats())]
    pub(crate) format: String,
    #[command(flatten)]
    pub(crate) frame: FrameArgs,
    #[command(flatten)]
    pub(crate) delivery: DeliveryArgs,
    /// Bits of the numbers written; each file type's own if left out
    #[arg(long, value_parser = one_of::<Depth>())]
    pub(crate) depth: Option<Depth>,
    /// JPEG quality
    #[arg(long, default_value_t = JPEG_QUALITY, value_parser = clap::value_parser!(u8).range(1..=100))]
    pub(crate) quality: u8,
    /// Write the frame as it leaves this stage, in the stage's own unit
    #[arg(long, default_value = StageId::Screen.id(), value_parser = one_of::<StageId>())]
    pub(crate) stage: StageId,
    /// Leave the texture out: all that spreads light or lies on the film
    #[arg(long)]
    pub(crate) no_texture: bool,
    /// Write the frame as the camera saw it, without the look
    #[arg(long)]
    pub(crate) before: bool,
    /// Write where the picture was taken as well, if its file says so
    #[arg(long)]
    pub(crate) keep_place: bool,
    #[command(flatten)]
    pub(crate) sequence: SequenceArgs,
    #[command(flatten)]
    pub(crate) batch: BatchArgs,
    #[command(flatten)]
    pub(crate) pipe: PipeArgs,
}

/// What comes and goes through pipes.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "Pipes")]
pub(crate) struct PipeArgs {
    /// Standard input holds raw frames of this size and sort: rgb8, rgb16, rgbf32 or the same with rgba,
    /// low byte first
    #[arg(long, value_name = "WIDTHxHEIGHT:SORT", value_parser = Raw::parse)]
    pub(crate) raw: Option<Raw>,
    /// Frames a second of Y4M that goes out: 25, 30000/1001; that of Y4M that comes in if left out
    #[arg(long, value_parser = rate)]
    pub(crate) rate: Option<String>,
}

/// A rate as Y4M has it.
fn rate(text: &str) -> Result<String, String> {
    let (frames, seconds) = text.split_once('/').unwrap_or((text, "1"));
    match [frames, seconds].map(str::parse::<u32>) {
        [Ok(frames @ 1..), Ok(seconds @ 1..)] => Ok(format!("{frames}:{seconds}")),
        _ => Err("give frames a second such as 25 or 30000/1001".to_owned()),
    }
}

/// The file types by their endings, and the sorts of raw frames by their names.
fn formats() -> PossibleValuesParser {
    let raw = RAW_FORMATS.iter().map(|info| info.id);
    PossibleValuesParser::new(OutFormat::endings().chain(raw).chain(["y4m"]))
}

/// Which pictures, and how they are numbered.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "Sequences")]
pub(crate) struct SequenceArgs {
    /// The frames to render: 1001-1240, 1001-1240x2 (every second one), 7,9,12
    #[arg(long, value_parser = Frames::parse)]
    pub(crate) frames: Option<Frames>,
    /// A file with names of pictures, one a line; - for standard input
    #[arg(long, value_name = "FILE")]
    pub(crate) list: Option<PathBuf>,
    /// Number the pictures from here in the order in which they are given, whatever their names say
    #[arg(long, value_name = "NUMBER", conflicts_with = "frames")]
    pub(crate) first_frame: Option<u32>,
    /// Seed of grain, dust, weave and flicker, 0 to 999999, or look for the look's own; made from the look's own and the
    /// shot's name if left out
    #[arg(long, value_parser = Seed::parse)]
    pub(crate) seed: Option<Seed>,
}

/// How many pictures are rendered in one go, unattended.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "Long runs")]
pub(crate) struct BatchArgs {
    /// Go on with earlier work: what is done and right stays, the rest is made
    #[arg(long)]
    pub(crate) resume: bool,
    /// Go on after a picture that fails, and list at the end what failed
    #[arg(long)]
    pub(crate) keep_going: bool,
    /// Render this share of the pictures: 1/4 is every fourth from the first on, 2/4 from the second
    #[arg(long, value_name = "K/N", value_parser = Share::parse, requires = "from")]
    pub(crate) share: Option<Share>,
    /// Threads to work with; one for each core if left out
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,
    /// Say nothing but what went wrong
    #[arg(long)]
    pub(crate) quiet: bool,
    /// Add a line of JSON for every picture to this file
    #[arg(long, value_name = "FILE.jsonl")]
    pub(crate) log: Option<PathBuf>,
}
