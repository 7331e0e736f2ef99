//! `cargo xtask bench`: how fast the work is, natively and in WebAssembly, beside general-purpose
//! libraries that do the same work on the same frame, as a table in Markdown.

mod report;

use crate::{layout, process, test, web};
use anyhow::{Context, Result, bail};
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
    /// Write the table to crates/bench/RESULTS.md as well.
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
    let table = figures.markdown();
    println!("{table}");
    if options.write {
        let path = layout::root().join("crates/bench/RESULTS.md");
        fs::write(&path, table).with_context(|| format!("writing {}", path.display()))?;
    }
    Ok(())
}

/// The same work in WebAssembly, timed by Node.
fn wasm(folder: &Path, figures: &mut Figures) -> Result<()> {
    let module = web::compile("lookwright-bench", &web::Options::default())?;
    web::bindings::generate(&module, &folder.join("pkg"), true)?;
    let script = folder.join("figures.mjs");
    fs::write(&script, include_str!("figures.mjs"))?;
    watch(Command::new("node").arg(&script), figures)
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
    let line = process::line_of(command);
    let mut first_fault = Ok(());
    let succeeded = process::lines_of(command, |text| {
        if let Err(fault) = figures.take(text)
            && first_fault.is_ok()
        {
            first_fault = Err(fault);
        }
    })?;
    if !succeeded {
        bail!("`{line}` failed");
    }
    first_fault.with_context(|| format!("reading what `{line}` prints"))
}
