//! `lookwright plate`: grain, dust or halation as pictures, for who works from tables alone.

use anyhow::{Context, Result, bail};
use lookwright_film::look::{CodeRange, Delivery, Look, Options};
use lookwright_handover::{OverGrey, PlateKind, PlateRecipe, plate::check_size};
use lookwright_picture::Extent;

use crate::args::PlateArgs;
use crate::output::{Folder, Planned, one_place, places};
use crate::reading::Reading;
use crate::sequence::shot::with_seed;
use crate::{files, settings};

/// What lies beside grain and dust plates: how much of them shows at each code, and how they are laid.
const GAIN: &str = "gain.cube";
const NOTE: &str = "blend.txt";

pub(crate) fn run(args: &PlateArgs) -> Result<()> {
    match args.kind {
        PlateKind::Halation => halation(args),
        PlateKind::Grain | PlateKind::Dust => sequence(args),
    }
}

fn sequence(args: &PlateArgs) -> Result<()> {
    let look = files::read_look(&args.look)?;
    let look = match &args.shot {
        Some(shot) => with_seed(&look, None, Some(shot)),
        None => look,
    };
    let numbers = args.first_frame..args.first_frame + args.frames;
    let [width, height] = args.size;
    let plates = numbers
        .clone()
        .map(|number| format!("{}.{number:04}.png", args.kind.id()));
    let planned: Vec<_> = plates
        .chain([GAIN.to_owned(), NOTE.to_owned()])
        .map(|name| Planned {
            path: args.output.join(name),
            of: None,
            known: false,
        })
        .collect();
    let places = places(&planned, &[&args.look], Folder::Made, &args.writing)?;
    let shown = || args.look.display().to_string();
    let plates = OverGrey::new(&recipe(args, look), (width, height)).with_context(shown)?;
    for (number, place) in numbers.zip(&places) {
        place.write(&plates.plate(number).with_context(shown)?)?;
    }
    let [.., gain, note] = &places[..] else {
        return Ok(());
    };
    gain.write(&plates.gain_cube()?)?;
    note.write(plates.note().as_bytes())
}

fn halation(args: &PlateArgs) -> Result<()> {
    let look = files::read_look(&args.look)?;
    let Some(input) = &args.picture else {
        bail!("halation is a picture's own: name the picture with --picture");
    };
    if args
        .output
        .extension()
        .is_none_or(|e| !e.eq_ignore_ascii_case("png"))
    {
        bail!(
            "{}: plates are written as .png; end the name so",
            args.output.display()
        );
    }
    let place = one_place(&args.output, &[&args.look, input], &args.writing)?;
    let picture = files::read_picture_if(input, Extent::Shown, &|header| {
        let size = |edge: u64| u32::try_from(edge).unwrap_or(u32::MAX);
        check_size(
            (size(header.width), size(header.height)),
            header.sample_bytes(),
        )
    })?;
    let name = input.display().to_string();
    let frame = settings::frame(&args.frame, Reading::of_one(&args.frame, &picture, &name)?)?;
    let plate = recipe(args, look)
        .over_picture(&picture, &frame)
        .with_context(|| args.look.display().to_string())?;
    place.write(&plate)
}

fn recipe(args: &PlateArgs, look: Look) -> PlateRecipe {
    let mut delivery = Delivery::default();
    delivery.display.screen = args.to;
    if args.legal {
        delivery.display.range = CodeRange::Legal;
    }
    PlateRecipe {
        look,
        kind: args.kind,
        on: args.on,
        delivery,
    }
}
