//! `lookwright plate`: grain, dust or halation as pictures, for who works from tables alone.

use anyhow::{Context, Result, bail};
use lookwright_film::look::{Delivery, Options, StageId};
use lookwright_film::spatial::Window;
use lookwright_picture::{Decoded, Plate};
use lookwright_render::Job;

use crate::args::PlateArgs;
use crate::{files, settings};

pub(crate) fn run(args: &PlateArgs) -> Result<()> {
    match args.kind {
        Plate::Halation => halation(args),
        Plate::Grain | Plate::Dust => sequence(args),
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
            frame: lookwright_film::look::Frame::default(),
            delivery: Delivery::default(),
            stage: StageId::Scan,
            window: Window::whole(width as usize, height as usize),
            frame_number: number,
        };
        let bytes = made(args, &job, None)?;
        let name = format!("{}.{number:04}.png", args.kind.id());
        files::write(&args.output.join(name), &bytes)?;
    }
    files::write(
        &args.output.join("blend.txt"),
        format!("{}\n", args.kind.blend()).as_bytes(),
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
    let bytes = made(args, &job, Some(&picture))?;
    files::write(&args.output, &bytes)
}

fn made(args: &PlateArgs, job: &Job, picture: Option<&Decoded>) -> Result<Vec<u8>> {
    args.kind
        .make(job, picture)
        .with_context(|| args.look.display().to_string())
}
