//! `lookwright plate`: grain, dust or halation as pictures, for who works from tables alone.

use anyhow::{Context, Result, bail};
use lookwright_core::look::{Delivery, StageId};
use lookwright_core::render::{Job, dust_plate, grain_plate, halation_plate};
use lookwright_core::spatial::{Planes, Window};
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions};

use crate::args::{PlateArgs, PlateKind};
use crate::{files, settings};

pub(crate) fn run(args: &PlateArgs) -> Result<()> {
    match args.kind {
        PlateKind::Halation => halation(args),
        PlateKind::Grain | PlateKind::Dust => sequence(args),
    }
}

/// How a plate is laid over the picture; written beside it.
fn blend(kind: PlateKind) -> &'static str {
    match kind {
        PlateKind::Grain => {
            "Grain around mid-grey. Lay it over the scan's log code before any contrast: code + 2 x plate - 1 (\"linear light\")."
        }
        PlateKind::Dust => {
            "Dust on the negative. Add it to the scan's log code before any contrast: code + plate."
        }
        PlateKind::Halation => {
            "Halation as linear layer exposure, mid-grey 0.18. Add it to the exposure that the film sees, before its curve."
        }
    }
}

fn sequence(args: &PlateArgs) -> Result<()> {
    let look = files::read_look(&args.look)?;
    let [width, height] = args.size;
    std::fs::create_dir_all(&args.output)
        .with_context(|| format!("{}: the folder can't be made", args.output.display()))?;
    for number in 1..=args.frames {
        let job = Job {
            look: look.clone(),
            frame: lookwright_core::look::Frame::default(),
            delivery: Delivery::default(),
            stage: StageId::Scan,
            window: Window::whole(width as usize, height as usize),
            frame_number: number,
        };
        let (word, plate) = match args.kind {
            PlateKind::Dust => ("dust", dust_plate(width as usize, height as usize, &job)),
            _ => ("grain", grain_plate(width as usize, height as usize, &job)),
        };
        let Some(plate) = plate else {
            bail!(
                "{}: this look has no {word}; turn it on and try again",
                args.look.display()
            );
        };
        let bytes = encode(&plate, OutFormat::Png16, blend(args.kind))?;
        files::write(&args.output.join(format!("{word}.{number:04}.png")), &bytes)?;
    }
    files::write(
        &args.output.join("blend.txt"),
        format!("{}\n", blend(args.kind)).as_bytes(),
    )
}

fn halation(args: &PlateArgs) -> Result<()> {
    let look = files::read_look(&args.look)?;
    let Some(input) = &args.picture else {
        bail!("halation is a picture's own: name the picture with --picture");
    };
    if args
        .output
        .extension()
        .is_none_or(|e| !e.eq_ignore_ascii_case("exr"))
    {
        bail!(
            "{}: light has no upper end; end the name with .exr",
            args.output.display()
        );
    }
    let picture = files::read_picture(input)?;
    let (width, height) = (picture.width as usize, picture.height as usize);
    let name = input.display().to_string();
    let job = Job {
        look,
        frame: settings::frame(&args.frame, Some((&picture, &name)))?,
        delivery: Delivery::default(),
        stage: StageId::Negative,
        window: Window::whole(width, height),
        frame_number: 0,
    };
    let code = Planes {
        width,
        height,
        planes: picture.to_planes(),
    };
    let Some(plate) = halation_plate(code, &job) else {
        bail!(
            "{}: this look has no halation; turn it on and try again",
            args.look.display()
        );
    };
    files::write(
        &args.output,
        &encode(&plate, OutFormat::ExrF32, blend(args.kind))?,
    )
}

fn encode(plate: &Planes, format: OutFormat, description: &str) -> Result<Vec<u8>> {
    let options = WriteOptions {
        colour: OutColour::Unmarked,
        legal_range: false,
        description: Some(description.to_owned()),
    };
    let mut writer = PictureWriter::new(format, plate.width as u32, plate.height as u32, &options)?;
    let mut row = vec![0.0; plate.width * 3];
    for y in 0..plate.height {
        for channel in 0..3 {
            for (pixel, value) in row.chunks_exact_mut(3).zip(plate.row(channel, y)) {
                pixel[channel] = *value;
            }
        }
        writer.push_rows(Rows::F32(&row))?;
    }
    Ok(writer.finish()?)
}
