//! The browsers that the page is tested in.

use crate::{layout, process};
use anyhow::{Result, bail};
use std::env;
use std::path::{Path, PathBuf};

const DEBIAN_PACKAGES: [&str; 2] = ["chromium", "firefox-esr"];

/// The browsers on this machine.
#[derive(Clone, Default)]
pub(crate) struct Found {
    pub(crate) chromium: Option<PathBuf>,
    pub(crate) firefox: Option<PathBuf>,
}

impl Found {
    pub(crate) fn complete(&self) -> bool {
        self.chromium.is_some() && self.firefox.is_some()
    }
}

/// Finds the browsers, and installs them where it may.
///
/// # Errors
/// When something is missing that this user may not install; the message says what.
pub(crate) fn find() -> Result<Found> {
    let mut found = look();
    if !found.complete() {
        let packages = DEBIAN_PACKAGES.join(" ");
        if layout::find_program(&["apt-get"]).is_none() || !process::is_root() {
            bail!(
                "install Chromium and Firefox (Debian: `apt-get install {packages}`); \
                 LOOKWRIGHT_CHROMIUM and LOOKWRIGHT_FIREFOX may name browsers elsewhere"
            );
        }
        println!("installing {packages}");
        process::apt_install(&DEBIAN_PACKAGES)?;
        found = look();
    }
    if !found.complete() {
        bail!("a browser is missing although its package was installed");
    }
    for browser in [&found.chromium, &found.firefox].into_iter().flatten() {
        println!("{}", browser.display());
    }
    Ok(found)
}

fn look() -> Found {
    Found {
        chromium: browser(
            "LOOKWRIGHT_CHROMIUM",
            &["chromium", "chromium-browser", "google-chrome"],
            "/Applications/Chromium.app/Contents/MacOS/Chromium",
        ),
        firefox: browser(
            "LOOKWRIGHT_FIREFOX",
            &["firefox-esr", "firefox"],
            "/Applications/Firefox.app/Contents/MacOS/firefox",
        ),
    }
}

fn browser(variable: &str, names: &[&str], on_mac: &str) -> Option<PathBuf> {
    env::var_os(variable)
        .map(PathBuf::from)
        .filter(|path| path.is_file())
        .or_else(|| layout::find_program(names))
        .or_else(|| Some(Path::new(on_mac).to_owned()).filter(|path| path.is_file()))
}
