//! `cargo xtask serve`: builds the page, serves it on this machine alone and opens it.

mod answer;
mod media;
mod open;

use crate::{layout, web};
use anyhow::{Result, anyhow, bail};
use std::io::Write;
use std::net::Ipv4Addr;
use std::path::Path;
use std::sync::Arc;
use std::{io, thread};
use tiny_http::Server;

/// How many ports are tried from the given one on.
const TRIES: u16 = 50;
/// Browsers ask for several files at once, and a slow one must not hold up the others.
const THREADS: usize = 4;

/// Options of `cargo xtask serve`.
#[derive(clap::Args)]
pub(crate) struct Options {
    /// The first port to try; 0 takes whichever is free.
    #[arg(long, default_value_t = 8473)]
    port: u16,
    /// Do not open a browser.
    #[arg(long)]
    no_open: bool,
    /// Serve what is in web/dist as it is.
    #[arg(long, conflicts_with_all = ["dev", "target_from"])]
    no_build: bool,
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
    let dist = layout::dist()
        .canonicalize()
        .unwrap_or_else(|_| layout::dist());
    if !dist.join("index.html").is_file() {
        bail!("there is no page in web/dist: run `cargo xtask web` first");
    }
    let server = Arc::new(listen(options.port)?);
    let address = server
        .server_addr()
        .to_ip()
        .ok_or_else(|| anyhow!("not listening on IP"))?;
    let url = format!("http://{address}/");
    println!("Lookwright is at {url} (stop with Ctrl-C)");
    io::stdout().flush()?;
    if !options.no_open {
        open::browser(&url);
    }
    let workers: Vec<_> = (0..THREADS)
        .map(|_| {
            let (server, dist) = (Arc::clone(&server), dist.clone());
            thread::spawn(move || work(&server, &dist))
        })
        .collect();
    for worker in workers {
        worker.join().map_err(|_| anyhow!("the server stopped"))?;
    }
    Ok(())
}

fn work(server: &Server, dist: &Path) {
    while let Ok(request) = server.recv() {
        let response = answer::to(dist, &request);
        // A browser that went away needs no answer.
        let _gone = request.respond(response);
    }
}

fn listen(first: u16) -> Result<Server> {
    let last = if first == 0 {
        0
    } else {
        first.saturating_add(TRIES - 1)
    };
    for port in first..=last {
        if let Ok(server) = Server::http((Ipv4Addr::LOCALHOST, port)) {
            return Ok(server);
        }
    }
    bail!("no free port from {first} to {last}: give another one with --port")
}
