//! `cargo xtask setup`: installs what the tests need beside Rust, so that it can be had while
//! there is a network, or while something else compiles.

use crate::test::{browsers, ffmpeg, python, slurm, vectors};
use crate::{layout, npm};
use anyhow::{Result, bail};

/// Installs whatever is missing; what cannot be had does not keep the rest from being installed.
///
/// # Errors
/// When something is missing that cannot be installed; the message names each.
pub(crate) fn run() -> Result<()> {
    let root = layout::root();
    slurm::want();
    let outcomes = [
        npm::install(&root.join("web")),
        npm::install(&root.join("tests/browser")),
        python::reference_environment(&root.join("tests/reference")).map(drop),
        vectors::need().map(drop),
        ffmpeg::need(),
        browsers::find().map(drop),
    ];
    let missing: Vec<String> = outcomes
        .into_iter()
        .filter_map(|outcome| outcome.err().map(|error| format!("{error:#}")))
        .collect();
    if !missing.is_empty() {
        bail!("{}", missing.join("\nxtask: "));
    }
    Ok(())
}
