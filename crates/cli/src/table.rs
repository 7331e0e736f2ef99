//! `lookwright table`: a look's table part as a 3D table.

use anyhow::{Context, Result, bail};
use lookwright_colour::encoding::EncodingId;
use lookwright_film::look::Options;
use lookwright_film::path::scene_out::SceneCode;
use lookwright_handover::{Baked, Format, Recipe, Split};

use crate::args::TableArgs;
use crate::output::one_place;
use crate::{files, settings};

pub(crate) fn run(args: &TableArgs) -> Result<()> {
    let look = files::read_look(&args.look)?;
    let name = args.output.display();
    let ending = args
        .output
        .extension()
        .unwrap_or_default()
        .to_string_lossy();
    let Some(format) = Format::from_id(&ending.to_lowercase()) else {
        bail!(
            "{name}: end the file's name with .cube, .clf, .csp, .spi3d, .spi1d, .icc, .png or .cc to choose \
             the format"
        );
    };
    let split = args.split.unwrap_or_default();
    let encoding = match (args.from, split) {
        (Some(encoding), _) => encoding,
        // What goes in is the scan, whatever the camera was.
        (None, Split::ScanToScreen) => EncodingId::LogC3,
        (None, _) => bail!("--from is missing: name the encoding that the table takes in"),
    };
    let place = one_place(&args.output, &[&args.look], &args.writing)?;
    let recipe = Recipe {
        look,
        encoding,
        range: args.range,
        delivery: settings::delivery(&args.delivery),
        split,
        scene: match args.scene {
            Some(encoding) => Some(SceneCode::new(encoding, args.undo).context("--scene")?),
            None => None,
        },
        grid: args.grid,
    };
    let bytes = Baked::new(recipe)
        .and_then(|baked| baked.write(format))
        .with_context(|| name.to_string())?;
    place.write(&bytes)
}
