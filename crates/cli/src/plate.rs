//! `lookwright plate`: grain, dust or halation as pictures, for who works from tables alone.

use anyhow::{Context, Result, bail};
use lookwright_film::look::{Delivery, Options, StageId};
use lookwright_film::spatial::Window;
use lookwright_picture::{Decoded, Extent, Limits, Plate};
use lookwright_render::Job;

use crate::args::PlateArgs;
use crate::output::{Folder, Planned, one_place, places};
use crate::reading::Reading;
use crate::sequence::shot::with_seed;
use crate::{files, settings};

/// How the plates are laid on, beside them.
const NOTE: &str = "blend.txt";

pub(crate) fn run(args: &PlateArgs) -> Result<()> {
    match args.kind {
        Plate::Halation => halation(args),
        Plate::Grain | Plate::Dust => sequence(args),
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
        .chain([NOTE.to_owned()])
        .map(|name| Planned {
            path: args.output.join(name),
            of: None,
            known: false,
        })
        .collect();
    let places = places(&planned, &[&args.look], Folder::Made, &args.writing)?;
    for (number, place) in numbers.zip(&places) {
        let job = Job {
            look: look.clone(),
            frame: lookwright_film::look::Frame::default(),
            delivery: Delivery::default(),
            stage: StageId::Scan,
            window: Window::whole(width as usize, height as usize),
            frame_number: number,
        };
        place.write(&made(args, &job, None)?)?;
    }
    let blend = format!("{}\n", args.kind.blend());
    places
        .last()
        .map_or(Ok(()), |note| note.write(blend.as_bytes()))
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
            "{}: halation can be brighter than a PNG holds; end the name with .exr",
            args.output.display()
        );
    }
    let place = one_place(&args.output, &[&args.look, input], &args.writing)?;
    let picture = files::read_picture_if(input, Extent::Shown, &|header| {
        let size = (header.width, header.height);
        let samples = header.sample_bytes();
        args.kind.check(size, samples, &Limits::default())
    })?;
    let (width, height) = (picture.width as usize, picture.height as usize);
    let name = input.display().to_string();
    let job = Job {
        look,
        frame: settings::frame(&args.frame, Reading::of_one(&args.frame, &picture, &name)?)?,
        delivery: Delivery::default(),
        stage: StageId::Negative,
        window: Window::whole(width, height),
        frame_number: 0,
    };
    place.write(&made(args, &job, Some(&picture))?)
}

fn made(args: &PlateArgs, job: &Job, picture: Option<&Decoded>) -> Result<Vec<u8>> {
    args.kind
        .make(job, picture)
        .with_context(|| args.look.display().to_string())
}
