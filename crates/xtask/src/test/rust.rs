//! The steps that cargo does.

use super::tally::Tally;
use crate::toolchain::{Toolchain, WASM};
use crate::web::SIMD;
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

/// What is only compiled for WebAssembly, and what that build leaves out elsewhere. In the folder of
/// the other checks, which have compiled the procedural macros already.
pub(crate) fn lints_for_wasm() -> Result<Tally> {
    let toolchain = Toolchain::find(&WASM, None)?;
    if !toolchain.has_lints() {
        println!("left out: clippy needs rustup's {}", WASM.triple);
        return Ok(Tally::left_out());
    }
    let mut clippy = toolchain.cargo();
    clippy
        .current_dir(layout::root())
        .args(["clippy", "--lib", "--target", WASM.triple])
        .args(["--package=lookwright-wasm", "--package=lookwright-bench"])
        .args(["--", "-D", "warnings"])
        .env("RUSTFLAGS", SIMD);
    process::run(&mut clippy)?;
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

/// What is tested of the project: all but the tasks, and what only measures.
const TESTED: [&str; 3] = [
    "--workspace",
    "--exclude=xtask",
    "--exclude=lookwright-bench",
];

/// The command line, the extension of the Python package, and what the reference checks ask: as the
/// unit tests have them, so that little is left to compile. Unlike the release build they stop at an
/// integer that overflows; their pixels are the same.
pub(crate) fn command_line() -> Result<()> {
    let mut command = cargo(&["build", "--bins", "--lib", "--example=table_tool"]);
    process::run(command.args(TESTED))
}

/// The tasks' own tests are built in the profile that the tasks are built in: in any other, their
/// dependencies would be compiled again for minutes. What is only measured has no tests; its
/// libraries would be compiled for nothing.
pub(crate) fn tests() -> Result<Tally> {
    let mut tally = Tally::default();
    let mut broken = Vec::new();
    for selection in [
        TESTED.as_slice(),
        ["--profile=xtask", "--package=xtask"].as_slice(),
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
