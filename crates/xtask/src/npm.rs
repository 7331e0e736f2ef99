//! Node and the packages that a folder's lock file names.

use crate::process;
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::Path;
use std::process::Command;

/// Installs a folder's locked packages, unless that was done for the same lock file.
///
/// # Errors
/// When npm is missing or a package cannot be installed.
pub(crate) fn install(folder: &Path) -> Result<()> {
    let lock = folder.join("package-lock.json");
    let wanted = fs::read(&lock).with_context(|| format!("reading {}", lock.display()))?;
    let _alone = process::alone("npm")?;
    let stamp = folder.join("node_modules/.installed");
    if fs::read(&stamp).is_ok_and(|before| before == wanted) {
        return Ok(());
    }
    need_node()?;
    let mut npm = Command::new(if cfg!(windows) { "npm.cmd" } else { "npm" });
    npm.current_dir(folder)
        .args(["ci", "--no-audit", "--no-fund", "--ignore-scripts"]);
    process::run(&mut npm)?;
    Ok(fs::write(stamp, wanted)?)
}

/// Makes sure of Node.
///
/// # Errors
/// When it is missing or too old.
pub(crate) fn need_node() -> Result<()> {
    let version = process::output_of(Command::new("node").arg("--version"))
        .context("no Node: install Node 20.11 or later")?;
    let mut numbers = version
        .trim_start_matches('v')
        .split('.')
        .map_while(|it| it.parse().ok());
    if (numbers.next().unwrap_or(0), numbers.next().unwrap_or(0)) < (20_u32, 11_u32) {
        bail!("Node {version} is too old: install Node 20.11 or later");
    }
    Ok(())
}
