//! The steps that Node does: type checks of the page, and tests written in JavaScript.

use super::tally::Tally;
use crate::{layout, npm, process};
use anyhow::{Result, bail};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Checks the page's types with every TypeScript configuration that `web` holds.
///
/// # Errors
/// When Node or the compiler is missing.
pub(crate) fn types(web: &Path) -> Result<Tally> {
    let configurations = layout::files(web, |name| {
        name.starts_with("tsconfig") && name.ends_with(".json")
    })?;
    let mut tally = Tally::default();
    if configurations.is_empty() {
        bail!("there is nothing to check in {}", web.display());
    }
    npm::install(web)?;
    for configuration in configurations {
        let mut tsc = Command::new("node");
        tsc.current_dir(web)
            .arg("node_modules/typescript/bin/tsc")
            .arg("--noEmit");
        tsc.arg("--project").arg(&configuration);
        tally += Tally::one(process::run_watching(&mut tsc, |_| {})?);
    }
    Ok(tally)
}

/// The tests of a folder: its `*.test.mjs`.
///
/// # Errors
/// When it cannot be read.
pub(crate) fn of(folder: &Path) -> Result<Vec<PathBuf>> {
    layout::files(folder, |name| name.ends_with(".test.mjs"))
}

/// Runs files of tests, so many at a time; what they print comes file by file.
///
/// # Errors
/// When there are none, Node is missing or too old, or it broke off without a result.
pub(crate) fn tests(
    files: &[PathBuf],
    at_a_time: usize,
    environment: impl Fn(&mut Command),
) -> Result<Tally> {
    let mut tally = Tally::default();
    if files.is_empty() {
        bail!("there is nothing to run");
    }
    npm::need_node()?;
    let mut node = Command::new("node");
    node.current_dir(layout::root())
        .args(["--test", "--test-reporter=spec"])
        .arg(format!("--test-concurrency={at_a_time}"))
        .arg("--test-timeout=1800000")
        .args(files);
    environment(&mut node);
    let passed = process::run_watching(&mut node, |line| tally.see(line))?;
    if !passed && tally.failed == 0 {
        bail!("Node broke off without a result");
    }
    Ok(tally)
}
