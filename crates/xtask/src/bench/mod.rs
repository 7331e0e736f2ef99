//! `cargo xtask bench`: how fast the work is, natively and in WebAssembly, beside general-purpose
//! libraries that do the same work on the same frame, and in the page, as tables in Markdown.

mod page;
mod plot;
mod report;

use crate::{layout, npm, process, test, web};
use anyhow::{Context, Result, bail};
use page::PageFigures;
use report::Figures;
use std::fs;
use std::path::Path;
use std::process::Command;

/// Options of `cargo xtask bench`.
#[derive(clap::Args)]
pub(crate) struct Options {
    /// Leave out WebAssembly.
    #[arg(long)]
    no_wasm: bool,
    /// Leave out the other libraries.
    #[arg(long)]
    no_peers: bool,
    /// Leave out the page in a browser.
    #[arg(long)]
    no_page: bool,
    /// Write the tables to crates/bench/RESULTS.md as well, and the plot beside it.
    #[arg(long)]
    write: bool,
}

/// Measures everything and prints the table.
///
/// # Errors
/// When something does not compile or run, or a file cannot be written.
pub(crate) fn run(options: &Options) -> Result<()> {
    let folder = layout::target().join("bench");
    fs::create_dir_all(&folder).with_context(|| format!("making {}", folder.display()))?;
    let mut cargo = Command::new(env!("CARGO"));
    process::run(cargo.current_dir(layout::root()).args([
        "build",
        "--release",
        "--package",
        "lookwright-bench",
    ]))?;
    let program = layout::program("figures");
    let mut figures = Figures::default();
    watch(&mut Command::new(&program), &mut figures)?;
    if !options.no_wasm {
        wasm(&folder, &mut figures)?;
    }
    if !options.no_peers {
        process::run(Command::new(&program).arg("--files").arg(&folder))?;
        peers(&folder, &mut figures)?;
    }
    let mut table = figures.markdown();
    if !options.no_page {
        table.push_str(&in_page()?);
    }
    println!("{table}");
    if options.write {
        let folder = layout::root().join("crates/bench");
        let plot = plot::growth(&figures.by_size());
        for (name, text) in [("RESULTS.md", table), ("growth.svg", plot)] {
            let path = folder.join(name);
            fs::write(&path, text).with_context(|| format!("writing {}", path.display()))?;
        }
    }
    Ok(())
}

/// The same work in WebAssembly, timed by Node.
fn wasm(folder: &Path, figures: &mut Figures) -> Result<()> {
    let modules = web::compile(&["lookwright-bench"], &web::Options::default())?;
    web::bindings::generate(&modules[0], &folder.join("pkg"), true)?;
    let script = folder.join("figures.mjs");
    fs::write(&script, include_str!("figures.mjs"))?;
    watch(Command::new("node").arg(&script), figures)
}

/// The page in Chromium, its figures as text.
fn in_page() -> Result<String> {
    web::run(&web::Options::default())?;
    test::ffmpeg::need()?;
    let browsers = test::browsers::find()?;
    let folder = layout::root().join("tests/browser");
    npm::install(&folder)?;
    let mut node = Command::new("node");
    node.current_dir(&folder).arg("speed.mjs");
    test::environment(&mut node, &browsers);
    let mut figures = PageFigures::default();
    read(&mut node, |line| match line.starts_with('{') {
        true => figures.take(line),
        // What the test runner says around them.
        false => Ok(()),
    })?;
    Ok(figures.markdown())
}

/// The libraries, in a Python environment of their own.
fn peers(folder: &Path, figures: &mut Figures) -> Result<()> {
    let requirements = folder.join("requirements.txt");
    fs::write(&requirements, include_str!("requirements.txt"))?;
    let python = test::python::environment(&requirements, &folder.join("venv"))?;
    let script = folder.join("peers.py");
    fs::write(&script, include_str!("peers.py"))?;
    watch(Command::new(python).arg(&script).arg(folder), figures)
}

/// Runs a program that prints figures and takes them in.
fn watch(command: &mut Command, figures: &mut Figures) -> Result<()> {
    read(command, |line| figures.take(line))
}

/// Runs a program to its end and hands on the lines that it prints.
fn read(command: &mut Command, mut take: impl FnMut(&str) -> Result<()>) -> Result<()> {
    let line = process::line_of(command);
    let mut first_fault = Ok(());
    let succeeded = process::lines_of(command, |text| {
        if first_fault.is_ok() {
            first_fault = take(text);
        }
    })?;
    if !succeeded {
        bail!("`{line}` failed");
    }
    first_fault.with_context(|| format!("reading what `{line}` prints"))
}
