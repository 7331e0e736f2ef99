//! `lookwright`: looks as files, rendered and handed on from a terminal.
//!
//! Results go to standard output, everything else to standard error. Exit codes: 0 done, 1 the
//! input or the disk would not allow it, 2 the command was not understood; `check` and `render` have more.

mod args;
mod batch;
mod check;
mod choices;
mod encodings;
mod files;
mod licences;
mod new;
mod output;
mod pack;
mod pipe;
mod plate;
mod reading;
mod render;
mod sequence;
mod settings;
mod still;
mod suggest;
mod table;
mod trace;
mod workers;

use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command};

/// Exit code of a program that was stopped from the keyboard (common practice of shells).
const STOPPED: i32 = 130;

/// Strips and planes are megabytes that come and go all the time: this allocator keeps them, where
/// the system's gives them back and has every page cleared again.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    // Without a handler, Ctrl-C works as before, but leaves what was being written.
    let _ = ctrlc::set_handler(|| output::give_up(STOPPED));
    let result = match Args::parse().command {
        Command::Encodings(args) => encodings::run(&args).map(done),
        Command::New(args) => new::run(&args).map(done),
        Command::Render(args) => render::run(&args),
        Command::Table(args) => table::run(&args).map(done),
        Command::Check(args) => check::run(&args),
        Command::Pack(args) => pack::run(&args).map(done),
        Command::Plate(args) => plate::run(&args).map(done),
        Command::Match(args) => still::run(&args).map(done),
        Command::Suggest(args) => suggest::run(&args).map(done),
        Command::Trace(args) => trace::run(&args).map(done),
        Command::Licences => licences::run().map(done),
    };
    match result {
        Ok(code) => code,
        Err(error) if is_closed_pipe(&error) => ExitCode::SUCCESS,
        Err(error) => {
            files::say(&format!("lookwright: {error:#}"));
            ExitCode::from(1)
        }
    }
}

fn done((): ()) -> ExitCode {
    ExitCode::SUCCESS
}

/// Whoever read our output has had enough: that is no failure.
fn is_closed_pipe(error: &anyhow::Error) -> bool {
    error
        .downcast_ref::<std::io::Error>()
        .is_some_and(|e| e.kind() == std::io::ErrorKind::BrokenPipe)
}
