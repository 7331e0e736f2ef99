//! Opening the page in the person's own browser, where there is one.

use crate::layout;
use std::env;
use std::process::{Command, Stdio};

/// Opens `url` if this machine has a display; says nothing and does nothing if it has not.
pub(crate) fn browser(url: &str) {
    let Some(mut opener) = opener() else { return };
    let started = opener
        .arg(url)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    if started.is_err() {
        println!("no browser opened by itself: open the address by hand");
    }
}

fn opener() -> Option<Command> {
    if env::var_os("CI").is_some() {
        return None;
    }
    if cfg!(target_os = "windows") {
        let mut start = Command::new("cmd");
        start.args(["/C", "start", ""]);
        return Some(start);
    }
    if cfg!(target_os = "macos") {
        return Some(Command::new("open"));
    }
    let display = ["DISPLAY", "WAYLAND_DISPLAY"]
        .iter()
        .any(|name| env::var_os(name).is_some());
    if display {
        layout::find_program(&["xdg-open"]).map(Command::new)
    } else {
        None
    }
}
