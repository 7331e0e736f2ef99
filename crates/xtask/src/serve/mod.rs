//! `cargo xtask serve`: builds the page, serves it on this machine alone and opens it.

mod answer;
mod connection;
mod media;
mod open;

use crate::{layout, web};
use anyhow::{Result, bail};
use std::io::Write;
use std::net::{Ipv4Addr, TcpListener};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::{io, thread};

/// How many ports are tried from the given one on.
const TRIES: u16 = 50;

/// Options of `cargo xtask serve`.
#[derive(clap::Args)]
pub(crate) struct Options {
    /// The first port to try; 0 takes whichever is free.
    #[arg(long, default_value_t = 8473)]
    port: u16,
    /// Do not open a browser.
    #[arg(long)]
    no_open: bool,
    /// Serve what is there as it is.
    #[arg(long, conflicts_with_all = ["dev", "target_from"])]
    no_build: bool,
    /// Serve another folder than web/dist.
    #[arg(long, value_name = "DIR", requires = "no_build")]
    folder: Option<PathBuf>,
    #[command(flatten)]
    web: web::Options,
}

/// Serves until it is stopped.
///
/// # Errors
/// When the page does not build or no port is free.
pub(crate) fn run(options: &Options) -> Result<()> {
    if !options.no_build {
        web::run(&options.web)?;
    }
    let folder = options.folder.clone().unwrap_or_else(layout::dist);
    if !folder.join("index.html").is_file() {
        bail!(
            "there is no page in {}: run `cargo xtask web` first",
            folder.display()
        );
    }
    let dist = folder.canonicalize()?;
    let listener = listen(options.port)?;
    let url = format!("http://{}/", listener.local_addr()?);
    println!("Lookwright is at {url} (stop with Ctrl-C)");
    io::stdout().flush()?;
    if !options.no_open {
        open::browser(&url);
    }
    let dist: Arc<Path> = dist.into();
    for stream in listener.incoming() {
        // A browser that went away needs no answer.
        let Ok(stream) = stream else { continue };
        let dist = Arc::clone(&dist);
        thread::spawn(move || connection::serve(stream, &dist));
    }
    Ok(())
}

fn listen(first: u16) -> Result<TcpListener> {
    let last = if first == 0 {
        0
    } else {
        first.saturating_add(TRIES - 1)
    };
    for port in first..=last {
        if let Ok(listener) = TcpListener::bind((Ipv4Addr::LOCALHOST, port)) {
            return Ok(listener);
        }
    }
    bail!("no free port from {first} to {last}: give another one with --port")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_taken_port_is_passed_over() {
        let taken = listen(0).unwrap().local_addr().unwrap().port();
        let first = listen(taken).unwrap();
        let second = listen(taken).unwrap();
        assert!(second.local_addr().unwrap().port() > first.local_addr().unwrap().port());
        assert!(first.local_addr().unwrap().ip().is_loopback());
    }
}
