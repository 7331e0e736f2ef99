//! The steps that cargo does.

use super::tally::Tally;
use crate::{layout, process};
use anyhow::{Result, bail};
use std::process::Command;

fn cargo(arguments: &[&str]) -> Command {
    let mut cargo = Command::new("cargo");
    cargo.current_dir(layout::root()).args(arguments);
    cargo
}

pub(crate) fn format() -> Result<Tally> {
    process::run(&mut cargo(&["fmt", "--all", "--check"]))?;
    Ok(Tally::one(true))
}

pub(crate) fn lints() -> Result<Tally> {
    process::run(&mut cargo(&[
        "clippy",
        "--workspace",
        "--all-targets",
        "--",
        "-D",
        "warnings",
    ]))?;
    Ok(Tally::one(true))
}

/// Private items as well, and links to them: who reads this documentation works on the project.
pub(crate) fn documentation() -> Result<Tally> {
    let mut doc = cargo(&[
        "doc",
        "--workspace",
        "--no-deps",
        "--document-private-items",
    ]);
    process::run(doc.env(
        "RUSTDOCFLAGS",
        "-D warnings -A rustdoc::private_intra_doc_links",
    ))?;
    Ok(Tally::one(true))
}

/// The command line as people run it.
pub(crate) fn command_line() -> Result<()> {
    process::run(&mut cargo(&[
        "build",
        "--release",
        "--package",
        "lookwright",
    ]))
}

/// The tasks' own tests are built in the profile that the tasks are built in: in any other, their
/// dependencies would be compiled again for minutes.
pub(crate) fn tests() -> Result<Tally> {
    let mut tally = Tally::default();
    let mut broken = Vec::new();
    for selection in [
        ["--workspace", "--exclude=xtask"],
        ["--profile=xtask", "--package=xtask"],
    ] {
        let mut command = cargo(&["test", "--no-fail-fast"]);
        command.args(selection);
        let mut here = Tally::default();
        let passed = process::run_watching(&mut command, |line| here.see(line))?;
        if !passed && here.failed == 0 {
            broken.push(process::line_of(&command));
        }
        tally += here;
    }
    if !broken.is_empty() {
        bail!(
            "did not build, or a test program broke off: {}",
            broken.join(", ")
        );
    }
    Ok(tally)
}
