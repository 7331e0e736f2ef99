//! `lookwright render`: pictures and sequences through a look.

mod names;
mod task;

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Mutex;

use anyhow::{Context, Result, bail};
use lookwright_film::look::{Look, MODEL_VERSION};
use lookwright_film::path::plan::Node;
use lookwright_picture::{Header, Limits, Version};
use serde_json::json;

use crate::args::RenderArgs;
use crate::batch::{Gate, Next, Outcome, Records, Report, each, remove_stale};
use crate::output::{Place, Planned, places};
use crate::reading::Readings;
use crate::sequence::{Picture, missing_in_words, pictures};
use crate::{files, pipe, settings};
pub(crate) use names::format_of;
use names::{Names, names};
use task::Task;

/// Exit code of a run that left pictures out.
const LEFT_OUT: u8 = 3;

pub(crate) fn run(args: &RenderArgs) -> Result<ExitCode> {
    pipe::check(args)?;
    let signed = files::read_look(&args.look)?;
    let look = if args.no_texture {
        signed.without_texture()
    } else {
        signed.clone()
    };
    let threads = threads(args)?;
    if args.inputs.iter().any(|input| pipe::is_pipe(input)) {
        for_pipes(args)?;
        if args.inputs.len() > 1 || args.sequence.list.is_some() {
            bail!("-: standard input is read by itself, without other pictures");
        }
        pipe::run(args, (&signed, &look), None, threads)?;
        return Ok(ExitCode::SUCCESS);
    }
    let mut wanted = pictures(&args.inputs, &args.sequence)?;
    let numbered = numbers_are_known(args, &look, &wanted.all);
    if let (Some(missing), false) = (missing_in_words(&wanted.all), args.batch.keep_going) {
        bail!("{missing}");
    }
    if let Some(share) = args.batch.share {
        let mut place = 0..;
        wanted
            .all
            .retain(|_| place.next().is_some_and(|place| share.has(place)));
    }
    if pipe::is_pipe(&args.output) {
        for_pipes(args)?;
        numbered?;
        pipe::run(args, (&signed, &look), Some(&wanted.all), threads)?;
        return Ok(ExitCode::SUCCESS);
    }
    let many = wanted.many_meant || wanted.all.len() > 1;
    let names = names(args, &wanted)?;
    let records = if many {
        if args.batch.resume {
            remove_stale(&names.inside)?;
        }
        Some(Records::of(&names.inside, args.batch.share)?)
    } else {
        None
    };
    let places = free_places(args, &wanted.all, &names, records.as_ref())?;
    numbered?;
    let formats = places
        .iter()
        .map(|place| format_of(place.typed(), args))
        .collect::<Result<Vec<_>>>()?;

    let report = Report::new(
        wanted.all.len(),
        args.batch.quiet,
        args.batch.log.as_deref(),
    )?;
    let there: Vec<PathBuf> = wanted
        .all
        .iter()
        .filter(|picture| !picture.missing)
        .map(|picture| picture.path.clone())
        .collect();
    let size = there
        .first()
        .filter(|_| many)
        .and_then(|first| files::size_of(first));
    let mut task = Task {
        args,
        look,
        fingerprint: signed.fingerprint(),
        signed,
        version: if args.before {
            Version::Unstyled
        } else {
            Version::Styled
        },
        pictures: &wanted.all,
        places: &places,
        formats: &formats,
        records,
        gate: Gate::new(Limits::default().max_bytes),
        strips: threads,
        same_size: size.filter(|_| wanted.one_shot),
        only: Mutex::new(None),
        readings: None,
        said: Mutex::default(),
    };
    let abreast = abreast(&task, threads, size);
    task.strips = (threads / abreast).max(1);
    if !there.is_empty() {
        let accept = |header: &Header| task.strips_for(header).map(drop);
        let (readings, only) = Readings::of(
            &args.frame,
            &there,
            (!many, task.extent(0)),
            &accept,
            report.bar(),
        )?;
        task.readings = Some(readings);
        task.only = Mutex::new(only);
    }
    report.log(&json!({
        "event": "begin", "look": args.look, "name": task.signed.name, "fingerprint": task.fingerprint,
        "model": MODEL_VERSION, "pictures": wanted.all.len(), "threads": threads,
        "share": args.batch.share.map(|share| share.to_string()),
    }));
    each(abreast, wanted.all.len(), |number| {
        let outcome = task.done(number).unwrap_or_else(Outcome::Failed);
        let failed = matches!(outcome, Outcome::Failed(_));
        let (input, output) = (&*wanted.all[number].path, places[number].typed());
        report.finished(number, (input, output), outcome);
        if failed && !args.batch.keep_going {
            Next::Stop
        } else {
            Next::Go
        }
    });
    if let Some(records) = task.records.filter(|_| !wanted.all.is_empty()) {
        records.tidy()?;
    }
    end(args, report.conclude())
}

/// What has no meaning for a stream is refused.
fn for_pipes(args: &RenderArgs) -> Result<()> {
    let batch = &args.batch;
    for (given, option) in [
        (batch.resume, "--resume"),
        (batch.keep_going, "--keep-going"),
        (batch.share.is_some(), "--share"),
        (batch.log.is_some(), "--log"),
        (args.sequence.frames.is_some(), "--frames"),
    ] {
        let of_files = option == "--share" || option == "--frames";
        let from_files = !args.inputs.iter().any(|input| pipe::is_pipe(input));
        if given && !(of_files && from_files) {
            bail!("{option}: a stream goes through as a whole; leave this out");
        }
    }
    Ok(())
}

/// What is said of pictures that failed, and the exit code.
fn end(args: &RenderArgs, mut failed: Vec<anyhow::Error>) -> Result<ExitCode> {
    if failed.is_empty() {
        return Ok(ExitCode::SUCCESS);
    }
    if !args.batch.keep_going {
        return Err(failed.swap_remove(0));
    }
    for error in &failed {
        files::say(&format!("lookwright: {error:#}"));
    }
    Ok(ExitCode::from(LEFT_OUT))
}

/// So many threads as were asked for, or one for each core; strips are rendered by as many.
fn threads(args: &RenderArgs) -> Result<usize> {
    let Some(threads) = args.batch.threads else {
        return Ok(rayon::current_num_threads());
    };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads.into());
    pool.build_global()
        .context("--threads: the threads can't be made")?;
    Ok(threads.into())
}

/// How many pictures are in the works at a time: one for each thread, if there are as many and the
/// memory allows it.
fn abreast(task: &Task<'_>, threads: usize, size: Option<(u64, u64)>) -> usize {
    let most = threads.min(task.pictures.len()).max(1);
    let (Some((width, height)), Some(format)) = (size, task.formats.first()) else {
        return most;
    };
    let bytes = task.bytes((width as u32, height as u32), *format);
    let room = Limits::default().max_bytes / bytes.max(1);
    most.min(room.max(1) as usize)
}

/// Grain and dust follow a picture's number: one that has none among several would get those of its
/// place, which another way to share out the work would change.
fn numbers_are_known(args: &RenderArgs, look: &Look, pictures: &[Picture]) -> Result<()> {
    let Some(picture) = pictures.iter().find(|p| p.number.is_none()) else {
        return Ok(());
    };
    let plan = settings::plan(args, look);
    let numbered = plan.nodes().iter().any(Node::is_numbered);
    if pictures.len() == 1 || args.before || !numbered {
        return Ok(());
    }
    bail!(
        "{}: grain and dust, weave and flicker follow a picture's number, and there is none at the end of this name; \
         number the pictures in their order with --first-frame 1, or leave texture out with \
         --no-texture",
        picture.path.display()
    )
}

/// Where each picture goes.
fn free_places(
    args: &RenderArgs,
    pictures: &[Picture],
    names: &Names,
    records: Option<&Records>,
) -> Result<Vec<Place>> {
    let known = |path: &Path| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        args.batch.resume && records.is_some_and(|records| records.before(&name).is_some())
    };
    let planned: Vec<_> = names
        .paths
        .iter()
        .zip(pictures)
        .map(|(path, of)| Planned {
            path: path.clone(),
            of: Some(&of.path),
            known: known(path),
        })
        .collect();
    let there = pictures.iter().filter(|picture| !picture.missing);
    let mut read: Vec<&Path> = there.map(|picture| &*picture.path).collect();
    read.push(&args.look);
    if let Some(list) = args.sequence.list.as_deref().filter(|list| list.is_file()) {
        read.push(list);
    }
    let found = places(&planned, &read, names.folder, &args.writing)?;
    if let Some(log) = &args.batch.log {
        crate::output::not_among(log, &read)?;
    }
    Ok(found)
}
