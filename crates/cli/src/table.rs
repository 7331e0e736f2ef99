//! `lookwright table`: a look's table part as a 3D table.

use anyhow::{Result, bail};
use lookwright_core::Rgb;
use lookwright_core::look::{Frame, Options};
use lookwright_core::path::LightPath;
use lookwright_core::table::{Cube, Grid3, Label, cube};

use crate::args::TableArgs;
use crate::{files, settings};

pub(crate) fn run(args: &TableArgs) -> Result<()> {
    let look = files::read_look(&args.look)?;
    if args
        .output
        .extension()
        .is_none_or(|e| !e.eq_ignore_ascii_case("cube"))
    {
        bail!(
            "{}: tables are written as .cube; end the file's name so",
            args.output.display()
        );
    }
    let mut frame = Frame::default();
    frame.source.encoding = args.from;
    let delivery = settings::delivery(&args.delivery);
    let path = LightPath::new(&look, &frame, &delivery);
    let grid = Grid3::sample_codes(args.grid, |code| {
        path.to_screen(Rgb::from_array(code)).to_array()
    })?;
    let label = Label {
        title: look.name.clone(),
        input: args.from.info().label.to_owned(),
        output: format!(
            "{}, {} range",
            args.delivery.to.info().label,
            delivery.display.range.id()
        ),
        notes: vec!["Diffusion, halation, softness, grain and dust are not in a table.".to_owned()],
        fingerprint: look.fingerprint(),
    };
    files::write(
        &args.output,
        cube::write(&Cube::of_grid(grid), &label)?.as_bytes(),
    )
}
