//! ffmpeg: the reference for tables, and what makes the clips and photographs that the page is
//! given.

use crate::{layout, process};
use anyhow::{Result, bail};

/// Finds ffmpeg, and installs it where it may.
///
/// # Errors
/// When it is missing and this user may not install it.
pub(crate) fn need() -> Result<()> {
    let there = || layout::find_program(&["ffmpeg"]).is_some();
    if there() {
        return Ok(());
    }
    if layout::find_program(&["apt-get"]).is_none() || !process::is_root() {
        bail!("install ffmpeg (Debian: `apt-get install ffmpeg`)");
    }
    println!("installing ffmpeg");
    process::apt_install(&["ffmpeg"])?;
    if !there() {
        bail!("ffmpeg is missing although its package was installed");
    }
    Ok(())
}
