//! `cargo xtask`: sets up, builds, serves and tests the project.
//!
//! Each task is a module of its own; this file only reads the command line.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "telling a person what happens is what these tasks do"
)]

mod bench;
mod layout;
mod licences;
mod npm;
mod process;
mod serve;
mod setup;
mod test;
mod toolchain;
mod web;

use clap::{Parser, Subcommand};
use std::process::ExitCode;

/// Set-up, serving, testing and measuring of Lookwright.
#[derive(Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask")]
struct Cli {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    /// Build the page into web/dist, ready for any static host.
    Web(web::Options),
    /// Build the page, serve it on 127.0.0.1 and open it.
    Serve(serve::Options),
    /// Install what the tests need: browsers, ffmpeg, packages of Python and Node.
    Setup,
    /// Set everything up and run every test.
    Test(test::Options),
    /// Check the licences of what is linked, and write the notices that the program holds.
    Licences,
    /// Measure how fast the work is, beside other libraries.
    Bench(bench::Options),
}

fn main() -> ExitCode {
    let outcome = match Cli::parse().task {
        Task::Web(options) => web::run(&options),
        Task::Serve(options) => serve::run(&options),
        Task::Setup => setup::run(),
        Task::Test(options) => test::run(&options),
        Task::Licences => licences::run(),
        Task::Bench(options) => bench::run(&options),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("xtask: {error:#}");
            ExitCode::FAILURE
        }
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_command_line_holds_together() {
        super::Cli::command().debug_assert();
    }
}
