//! `lookwright render`: pictures and sequences through a look.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use indicatif::{ProgressBar, ProgressStyle};
use lookwright_film::look::Frame;
use lookwright_film::spatial::Window;
use lookwright_picture::{Header, Limits, OutFormat, Sizes, Version, develop_with, frame_number};
use lookwright_render::Job;

use crate::args::RenderArgs;
use crate::output::{Folder, Pattern, Place, Planned, places};
use crate::reading::Pictures;
use crate::workers::AllCores;
use crate::{files, settings};

pub(crate) fn run(args: &RenderArgs) -> Result<()> {
    let mut look = files::read_look(&args.look)?;
    if args.no_texture {
        look = look.without_texture();
    }
    let places = places_of(args)?;
    let formats = places
        .iter()
        .map(|place| format_of(place.typed(), args))
        .collect::<Result<Vec<_>>>()?;
    let progress = if args.inputs.len() > 1 && std::io::stderr().is_terminal() {
        let style = ProgressStyle::with_template("{pos}/{len} {wide_bar} {eta} {msg}")?;
        ProgressBar::new(args.inputs.len() as u64).with_style(style)
    } else {
        ProgressBar::hidden()
    };
    let version = if args.before {
        Version::Unstyled
    } else {
        Version::Styled
    };
    // A job for a picture of this size; how it is read does not matter to what it takes.
    let job_for = |(width, height): (u32, u32)| Job {
        look: look.clone(),
        frame: Frame::default(),
        delivery: settings::delivery(&args.delivery),
        stage: args.stage,
        window: Window::whole(width as usize, height as usize),
        frame_number: 0,
    };
    let limits = Limits::default();
    let strips = |sizes: Sizes| {
        let cores = rayon::current_num_threads();
        sizes.strips(&job_for(sizes.size), version, &limits, cores)
    };
    let accept = |header: &Header| {
        strips(Sizes {
            size: (header.width as u32, header.height as u32),
            sample_bytes: header.sample_bytes(),
            format: formats.first().copied().unwrap_or(OutFormat::Png8),
        })
        .map(drop)
    };
    let mut pictures = Pictures::of(&args.frame, &args.inputs, &accept, &progress)?;
    for (index, (place, format)) in places.iter().zip(&formats).enumerate() {
        let input = &args.inputs[index];
        progress.set_message(input.display().to_string());
        let name = input.file_name().and_then(|name| name.to_str());
        let (picture, reading) = pictures.next(input, &accept)?;
        let size = (picture.width, picture.height);
        let job = Job {
            frame: settings::frame(&args.frame, reading)?,
            frame_number: name.and_then(frame_number).unwrap_or(index as u32),
            ..job_for(size)
        };
        let sizes = Sizes {
            size,
            sample_bytes: picture.samples.byte_count(),
            format: *format,
        };
        let most = strips(sizes).with_context(|| input.display().to_string())?;
        let bytes = develop_with(&picture, &job, version, *format, &AllCores { most }, |_| {
            Ok(())
        })
        .with_context(|| format!("{}", place.display()))?;
        place.write(&bytes)?;
        progress.inc(1);
    }
    progress.finish_and_clear();
    Ok(())
}

/// Where each picture goes.
fn places_of(args: &RenderArgs) -> Result<Vec<Place>> {
    let (paths, folder) = paths(args)?;
    let planned: Vec<_> = paths
        .into_iter()
        .zip(&args.inputs)
        .map(|(path, of)| Planned { path, of: Some(of) })
        .collect();
    let mut read: Vec<&Path> = args.inputs.iter().map(|p| &**p).collect();
    read.push(&args.look);
    places(&planned, &read, folder, &args.writing)
}

/// The name that each picture gets, by the folder, pattern or name that was typed.
fn paths(args: &RenderArgs) -> Result<(Vec<PathBuf>, Folder)> {
    let output = &args.output;
    let typed = output.to_string_lossy();
    if output.is_dir() || typed.ends_with(std::path::is_separator) {
        let name = |input: &PathBuf| {
            let mut name = input.file_stem().unwrap_or_default().to_owned();
            name.push(format!(".{}", args.format));
            output.join(name)
        };
        literal(output)?;
        return Ok((args.inputs.iter().map(name).collect(), Folder::Made));
    }
    literal(output.parent().unwrap_or(Path::new("")))?;
    // A name that is no text holds no pattern that could be read.
    let Some(name) = output.file_name().and_then(|name| name.to_str()) else {
        return one_path(args, output.clone());
    };
    let pattern = Pattern::parse(name)?;
    if let Some(plain) = pattern.plain() {
        return one_path(args, output.with_file_name(plain));
    }
    let named = |input: &PathBuf| Ok(output.with_file_name(pattern.fill(input)?));
    let paths = args.inputs.iter().map(named).collect::<Result<_>>()?;
    Ok((paths, Folder::Needed))
}

/// Signs of a pattern have no meaning in the name of a folder.
fn literal(folder: &Path) -> Result<()> {
    let name = folder.to_string_lossy();
    if name.contains(['%', '#']) && !folder.is_dir() {
        bail!("{name}: % and # stand for pictures only in a file's name; make such a folder first");
    }
    Ok(())
}

/// A name that only one picture can have.
fn one_path(args: &RenderArgs, path: PathBuf) -> Result<(Vec<PathBuf>, Folder)> {
    if args.inputs.len() > 1 {
        bail!(
            "{}: several pictures go into a folder (end its name with /) or to a pattern such as \
             out/%.png",
            args.output.display()
        );
    }
    Ok((vec![path], Folder::Needed))
}

/// The file type by the name's ending and the depth.
fn format_of(output: &Path, args: &RenderArgs) -> Result<OutFormat> {
    let ending = output.extension().unwrap_or_default().to_string_lossy();
    OutFormat::from_ending(&ending, args.depth, args.quality)
        .with_context(|| output.display().to_string())
}
