//! What can be typed. Ids are checked here, files later.

mod render;
mod still;
mod table;

use std::path::PathBuf;

use clap::{Parser, Subcommand};
use lookwright_colour::encoding::{EncodingId, Range, ScreenId};
use lookwright_film::look::{Before, CodeRange, Display, Options, Source, StockChoice, Trim};
use lookwright_film::path::scene_out::Rendering;
use lookwright_handover::{Format, PlateKind, PlateOn, Split};

use crate::check::FailOn;
use crate::choices::{help, number, one_of, scene_encoding};
pub(crate) use render::{RenderArgs, SequenceArgs};
pub(crate) use still::MatchArgs;
pub(crate) use table::TableArgs;

/// Builds photographed-film looks and renders them.
#[derive(Debug, Parser)]
#[command(name = "lookwright", version, about, arg_required_else_help = true)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Lists every encoding and screen, with gamut, white and source
    Encodings(EncodingsArgs),
    /// Writes a starting look
    New(NewArgs),
    /// Renders pictures or sequences through a look
    Render(RenderArgs),
    /// Writes a look's table part as a 3D table
    Table(TableArgs),
    /// Tells where a 3D table will hurt
    Check(CheckArgs),
    /// Writes a zip of tables, charts and a note for an editor
    Pack(PackArgs),
    /// Writes grain, dust or halation as pictures of their own
    Plate(PlateArgs),
    /// Shows one pixel's numbers at every stage
    Trace(TraceArgs),
    /// Prints the licences of this program and of all that is linked into it
    Licences,
    /// Says what exposure, light and kind of look a picture suggests
    Suggest(SuggestArgs),
    /// Finds the moves that bring a picture to what a still looks like
    Match(MatchArgs),
}

/// What may be written over.
#[derive(Debug, clap::Args)]
pub(crate) struct OutputArgs {
    /// Replace files that are there already; those that are read are never written over
    #[arg(long)]
    pub(crate) overwrite: bool,
}

#[derive(Debug, clap::Args)]
pub(crate) struct EncodingsArgs {
    /// As JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  lookwright new --stock overcast -o quay.json")]
pub(crate) struct NewArgs {
    /// The negative: evening, overcast, noon, all-grey, red-blind, or a balance and a speed (day-64)
    #[arg(long, default_value = "overcast", value_parser = StockChoice::parse)]
    pub(crate) stock: StockChoice,
    /// File to write; standard output if left out
    #[arg(short, long)]
    pub(crate) output: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) writing: OutputArgs,
    /// Write the JSON Schema of look files instead
    #[arg(long, conflicts_with = "stock")]
    pub(crate) schema: bool,
}

/// How a picture is read.
#[derive(Debug, clap::Args)]
pub(crate) struct FrameArgs {
    /// The encoding that the picture was recorded with, as `lookwright encodings` lists them; guessed
    /// from the file if left out
    #[arg(long, value_name = "ENCODING", value_parser = one_of::<EncodingId>(), hide_possible_values = true)]
    pub(crate) from: Option<EncodingId>,
    #[arg(long, help = help::<Source>("range"), value_parser = one_of::<Range>())]
    pub(crate) range: Option<Range>,
    #[arg(
        long,
        value_name = "SHARE",
        help = help::<Source>("unrender"),
        default_value_t = Source::default().unrender,
        value_parser = number::<Source>("unrender")
    )]
    pub(crate) unrender: f64,
    #[arg(
        long,
        value_name = "STOPS",
        help = help::<Trim>("exposure"),
        default_value_t = Trim::default().exposure,
        value_parser = number::<Trim>("exposure"),
        allow_negative_numbers = true
    )]
    pub(crate) exposure: f64,
    #[arg(
        long,
        value_name = "K",
        help = help::<Trim>("kelvin"),
        default_value_t = Trim::default().kelvin,
        value_parser = number::<Trim>("kelvin")
    )]
    pub(crate) kelvin: f64,
    #[arg(
        long,
        value_name = "DUV",
        help = help::<Trim>("tint"),
        default_value_t = Trim::default().tint,
        value_parser = number::<Trim>("tint"),
        allow_negative_numbers = true
    )]
    pub(crate) tint: f64,
}

impl FrameArgs {
    /// Of a picture of this encoding, or guessed, and not corrected.
    pub(crate) fn of_encoding(from: Option<EncodingId>) -> Self {
        let trim = Trim::default();
        Self {
            from,
            range: None,
            unrender: Source::default().unrender,
            exposure: trim.exposure,
            kelvin: trim.kelvin,
            tint: trim.tint,
        }
    }
}

/// What is written.
#[derive(Debug, clap::Args)]
pub(crate) struct DeliveryArgs {
    #[arg(
        long,
        value_name = "SCREEN",
        help = help::<Display>("screen"),
        default_value = Display::default().screen.id(),
        value_parser = one_of::<ScreenId>()
    )]
    pub(crate) to: ScreenId,
    #[arg(long, value_name = "HOW", help = help::<Display>("before"), default_value = Before::Soft.id(), value_parser = one_of::<Before>())]
    pub(crate) before_as: Before,
    /// Write the screen's codes in legal range
    #[arg(long)]
    pub(crate) legal: bool,
}

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  lookwright check quay.cube
  lookwright check theirs.clf --from vlog --to rec2020 --json
  lookwright check theirs.cube --picture theirs.svg
  lookwright check delivery.cube --fail-on serious

Reads .cube, CLF, .csp, .spi1d, .spi3d, ASC CDL and PNG lattice pictures, known by their content. What
else a file is, is said. What goes in and what a table is for is taken from its header
where it says so in the words that tables of this program have.

Exit code: 0 if nothing was found that --fail-on counts; else by the worst finding: 3 if it may show
in some pictures (minor), 4 if it will show (serious); 1 if the file can't be read, 2 if the command
was not understood.")]
pub(crate) struct CheckArgs {
    /// The table
    pub(crate) file: PathBuf,
    /// The encoding that goes in, where the table's header does not say it
    #[arg(long, value_name = "ENCODING", value_parser = one_of::<EncodingId>(), hide_possible_values = true)]
    pub(crate) from: Option<EncodingId>,
    /// How the codes that go in fill the scale
    #[arg(long, default_value = Range::default().id(), value_parser = one_of::<Range>(), requires = "from")]
    pub(crate) range: Range,
    /// The screen that the table is for; by its header if left out, else rec709
    #[arg(long, value_name = "SCREEN", value_parser = one_of::<ScreenId>())]
    pub(crate) to: Option<ScreenId>,
    /// The screen's codes are in legal range; by its header if left out, else full
    #[arg(long)]
    pub(crate) legal: bool,
    /// As JSON
    #[arg(long)]
    pub(crate) json: bool,
    /// From which severity on a table fails; all that was found is said in any case
    #[arg(long, value_name = "SEVERITY", value_enum, default_value_t = FailOn::Minor)]
    pub(crate) fail_on: FailOn,
    /// Draw the table, too: its grey axis, the tint of it, slices, the lattice
    #[arg(long, value_name = "OUT.svg")]
    pub(crate) picture: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) writing: OutputArgs,
}

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  lookwright pack quay.json --from logc3,slog3-sgamut3cine -o quay.zip
  lookwright pack quay.json ferry.json --from vlog --stock overcast,lamp-500 \\
    --split whole,camera-to-scan,scan-to-screen --frame shot.tif -o saltmarket.zip
  lookwright pack quay.json --from logc3 --scene acescct --undo aces --format clf -o quay.zip
  lookwright pack quay.json --from logc3 --plates --plate-size 3840x2160 --frame shot.tif -o quay.zip

Lists are separated by commas. Tables of full range take what a program hands over that knows the
camera's files; \"Which table?\" in the note says when another --range is needed.
The same looks, options and version give the same bytes. No date is
stated unless --date or the environment's SOURCE_DATE_EPOCH gives one.")]
pub(crate) struct PackArgs {
    /// Looks, JSON files
    #[arg(required = true, value_name = "LOOK")]
    pub(crate) looks: Vec<PathBuf>,
    /// Encodings that the tables take in
    #[arg(long, required = true, value_name = "ENCODING,...", value_delimiter = ',', value_parser = one_of::<EncodingId>(), hide_possible_values = true)]
    pub(crate) from: Vec<EncodingId>,
    /// Stocks that each look is put on; each look's own if left out
    #[arg(long, value_name = "STOCK,...", value_delimiter = ',', value_parser = StockChoice::parse)]
    pub(crate) stock: Vec<StockChoice>,
    #[arg(long, value_name = "RANGE,...", help = help::<Source>("range"), default_value = Range::default().id(), value_delimiter = ',', value_parser = one_of::<Range>())]
    pub(crate) range: Vec<Range>,
    #[arg(long, value_name = "SCREEN", help = help::<Display>("screen"), default_value = Display::default().screen.id(), value_parser = one_of::<ScreenId>())]
    pub(crate) to: ScreenId,
    /// How the screen's codes fill the scale
    #[arg(long, value_name = "RANGE,...", default_value = Display::default().range.id(), value_delimiter = ',', value_parser = one_of::<CodeRange>())]
    pub(crate) out_range: Vec<CodeRange>,
    /// Parts of the light path
    #[arg(long, value_name = "SPLIT,...", default_value = Split::default().id(), value_delimiter = ',', value_parser = one_of::<Split>())]
    pub(crate) split: Vec<Split>,
    /// Scene code that tables give besides, for pipelines that render for the display themselves
    #[arg(long, value_name = "ENCODING,...", value_delimiter = ',', value_parser = scene_encoding())]
    pub(crate) scene: Vec<EncodingId>,
    /// The renderings of such pipelines, each undone by a table of its own
    #[arg(long, value_name = "RENDERING,...", default_value = Rendering::Plain.id(), value_delimiter = ',', value_parser = one_of::<Rendering>(), requires = "scene")]
    pub(crate) undo: Vec<Rendering>,
    /// Formats of the tables
    #[arg(long, value_name = "FORMAT,...", default_value = "cube,clf", value_delimiter = ',', value_parser = one_of::<Format>())]
    pub(crate) format: Vec<Format>,
    /// Points along each axis, 2 to 129
    #[arg(long, default_value_t = 33)]
    pub(crate) grid: usize,
    /// A picture for the contact sheet, before and after; may be given several times
    #[arg(long, value_name = "IN")]
    pub(crate) frame: Vec<PathBuf>,
    /// The encoding of those pictures; guessed from each file if left out
    #[arg(long, value_name = "ENCODING", value_parser = one_of::<EncodingId>(), hide_possible_values = true, requires = "frame")]
    pub(crate) frame_from: Option<EncodingId>,
    /// Put in plates of the texture that tables leave out: grain, dust, and halation of each --frame
    #[arg(long)]
    pub(crate) plates: bool,
    /// Size of grain and dust plates in pixels
    #[arg(long, value_name = "WIDTHxHEIGHT", default_value = "1920x1080", value_parser = size, requires = "plates")]
    pub(crate) plate_size: [u32; 2],
    /// How many grain and dust plates
    #[arg(long, value_name = "COUNT", default_value_t = 24, value_parser = clap::value_parser!(u32).range(1..=10_000), requires = "plates")]
    pub(crate) plate_frames: u32,
    /// The day to state in the note
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) date: Option<String>,
    /// The licence to state in the note
    #[arg(long, value_name = "WORDS")]
    pub(crate) licence: Option<String>,
    /// Zip to write
    #[arg(short, long, value_name = "PACK.zip")]
    pub(crate) output: PathBuf,
    #[command(flatten)]
    pub(crate) writing: OutputArgs,
}

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  lookwright plate quay.json --kind grain --size 1920x1080 --frames 48 -o plates/
  lookwright plate quay.json --kind grain --on film-scan -o plates/
  lookwright plate ferry.json --kind halation --picture shot.tif --from logc3 -o glow.png

A plate is half of what the texture changes in code, around 0.5, as `lookwright pack --plates` puts it
into a pack. Grain and dust are laid as picture + gain(picture) x (2 x plate - 1), halation as
picture + 2 x plate - 1. gain.cube beside the plates is how much of them shows at each code of the
picture; blend.txt says so layer by layer, as an expression and as numbers.")]
pub(crate) struct PlateArgs {
    /// The look, a JSON file
    pub(crate) look: PathBuf,
    /// The texture
    #[arg(long, value_parser = one_of::<PlateKind>())]
    pub(crate) kind: PlateKind,
    /// Where plates are laid: on the picture after a whole table, or on the film scan between the two halves
    #[arg(long, value_name = "PLACE", default_value = PlateOn::default().id(), value_parser = one_of::<PlateOn>())]
    pub(crate) on: PlateOn,
    #[arg(long, value_name = "SCREEN", help = help::<Display>("screen"), default_value = Display::default().screen.id(), value_parser = one_of::<ScreenId>())]
    pub(crate) to: ScreenId,
    /// The picture's codes are in legal range
    #[arg(long)]
    pub(crate) legal: bool,
    /// Size of grain and dust plates in pixels
    #[arg(long, value_name = "WIDTHxHEIGHT", default_value = "1920x1080", value_parser = size)]
    pub(crate) size: [u32; 2],
    /// How many grain or dust plates
    #[arg(long, default_value_t = 24, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub(crate) frames: u32,
    /// Number of the first grain or dust plate: its name and its texture follow it, as those of a frame do
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(0..=4_000_000_000))]
    pub(crate) first_frame: u32,
    /// Name of the shot whose grain or dust is wanted: ferry has that which render gives ferry.1001.exr;
    /// the look's own if left out
    #[arg(long, value_name = "NAME")]
    pub(crate) shot: Option<String>,
    /// The picture whose halation is wanted
    #[arg(long, value_name = "IN")]
    pub(crate) picture: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) frame: FrameArgs,
    /// Folder to write to; for halation a .png file
    #[arg(short, long, value_name = "OUT")]
    pub(crate) output: PathBuf,
    #[command(flatten)]
    pub(crate) writing: OutputArgs,
}

fn size(text: &str) -> Result<[u32; 2], String> {
    let sides = text
        .split_once('x')
        .and_then(|(w, h)| Some([w.parse().ok()?, h.parse().ok()?]));
    match sides {
        Some(sides @ [1..=16_384, 1..=16_384]) => Ok(sides),
        _ => Err("give width and height in pixels, 1 to 16384, such as 1920x1080".to_owned()),
    }
}

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  lookwright trace quay.json --from logc3 --code 0.391,0.391,0.391
  lookwright trace quay.json --from logc3 shot.tif 640 360 --json")]
pub(crate) struct TraceArgs {
    /// The look, a JSON file
    pub(crate) look: PathBuf,
    /// A picture, and the pixel's column and row in it
    #[arg(num_args = 3, value_names = ["IN", "X", "Y"], required_unless_present = "code")]
    pub(crate) pixel: Vec<String>,
    /// Three codes of 1 instead of a picture's pixel
    #[arg(long, value_name = "R,G,B", value_parser = three_numbers, conflicts_with = "pixel", requires = "from", allow_hyphen_values = true)]
    pub(crate) code: Option<[f32; 3]>,
    #[command(flatten)]
    pub(crate) frame: FrameArgs,
    #[command(flatten)]
    pub(crate) delivery: DeliveryArgs,
    /// As JSON: an array of stages with name, unit and three numbers
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  lookwright suggest shot.jpg
  lookwright suggest shot.tif --from logc3 --json

Exposure by the picture's own key, light by its shades of grey, the scene by light, darkness and skin.
Nothing is changed: take the options that it names, or leave them.")]
pub(crate) struct SuggestArgs {
    /// The picture
    pub(crate) picture: PathBuf,
    #[command(flatten)]
    pub(crate) frame: FrameArgs,
    /// As JSON
    #[arg(long)]
    pub(crate) json: bool,
}

fn three_numbers(text: &str) -> Result<[f32; 3], String> {
    let numbers: Vec<f32> = text
        .split(',')
        .map(|part| part.trim().parse())
        .collect::<Result<_, _>>()
        .map_err(|_| "give three numbers such as 0.5,0.5,0.5".to_owned())?;
    numbers
        .try_into()
        .map_err(|_| "give three numbers such as 0.5,0.5,0.5".to_owned())
}
