//! `cargo xtask web`: the WebAssembly core, its JavaScript bindings and the static page, put
//! together in `web/dist`.

pub(crate) mod bindings;
mod bundle;
mod copy;
mod review;

use crate::toolchain::{self, Toolchain, WASM};
use crate::{layout, licences, process};
use anyhow::{Context, Result};
use std::fs;
use std::path::PathBuf;
use std::time::Instant;

/// The flags of every build for WebAssembly: vectors, which all browsers have had since 2023.
pub(crate) const SIMD: &str = "-C target-feature=+simd128";

/// A module of the core, and where it lies in `web/dist`.
pub(crate) struct Core {
    package: &'static str,
    folder: &'static str,
}

/// All of it.
pub(crate) const WHOLE: Core = Core {
    package: "lookwright-wasm",
    folder: "pkg",
};
/// What the page begins with.
pub(crate) const FIRST: Core = Core {
    package: "lookwright-wasm-first",
    folder: "pkg/first",
};
/// A folder comes before those in it.
const CORES: [Core; 2] = [WHOLE, FIRST];

impl Core {
    fn stem(&self) -> String {
        format!("{}/{}", self.folder, self.package.replace('-', "_"))
    }

    /// The WebAssembly.
    pub(crate) fn module(&self) -> String {
        format!("{}_bg.wasm", self.stem())
    }

    /// Its bindings.
    pub(crate) fn script(&self) -> String {
        format!("{}.js", self.stem())
    }
}

/// Options of `cargo xtask web`.
#[derive(clap::Args, Clone, Default)]
#[group(id = "web options")] // part of those of `serve`, whose group has the type's name too
pub(crate) struct Options {
    /// Compile quickly, without whole-program optimisation: slower pictures, for working on the
    /// page.
    #[arg(long)]
    dev: bool,
    /// Where the WebAssembly target comes from, instead of trying one after the other.
    #[arg(long, value_enum)]
    target_from: Option<toolchain::Source>,
}

/// Builds whatever is not up to date.
///
/// # Errors
/// When there is no WebAssembly target, the core does not compile, or a file cannot be written.
pub(crate) fn run(options: &Options) -> Result<()> {
    let start = Instant::now();
    let cores = compile(&CORES.map(|core| core.package), options)?;
    let mut fresh = false;
    for (core, wasm) in CORES.iter().zip(&cores) {
        fresh |= bindings::generate(wasm, &layout::dist().join(core.folder), options.dev)?;
    }
    let bundle = bundle::make(&layout::dist(), options)?;
    let notices = bundle.join(licences::FILE);
    fs::write(&notices, licences::page()?)
        .with_context(|| format!("writing {}", notices.display()))?;
    copy::page(layout::root(), &bundle, &layout::dist(), !options.dev)?;
    if fresh {
        for core in CORES {
            println!("{}", bindings::sizes(&layout::dist().join(core.module()))?);
        }
    }
    println!("web/dist is ready ({:.1} s)", start.elapsed().as_secs_f64());
    Ok(())
}

/// The packages of npm that the page's scripts are bundled with. What only builds or checks the
/// page is a `devDependency` and stays out of it.
///
/// # Errors
/// When `web/package.json` cannot be read.
pub(crate) fn bundled_packages() -> Result<Vec<String>> {
    let text = fs::read_to_string(layout::root().join("web/package.json"))
        .context("reading web/package.json")?;
    let manifest: serde_json::Value = serde_json::from_str(&text)?;
    let packages = manifest["dependencies"].as_object();
    Ok(packages.map_or_else(Vec::new, |them| them.keys().cloned().collect()))
}

/// Compiles packages for WebAssembly and gives the paths of the modules that the linker left.
///
/// # Errors
/// When there is no WebAssembly target, or a package does not compile.
pub(crate) fn compile(packages: &[&str], options: &Options) -> Result<Vec<PathBuf>> {
    let target = layout::target().join("web");
    let toolchain = Toolchain::find(&WASM, options.target_from)?;
    let (profile, folder) = if options.dev {
        ("dev", "debug")
    } else {
        ("web", "web")
    };
    let mut cargo = toolchain.cargo();
    cargo
        .current_dir(layout::root())
        .args(["build", "--lib"])
        .args(packages.iter().flat_map(|package| ["--package", package]))
        .args(["--profile", profile])
        .args(["--target", WASM.triple, "--target-dir"])
        .arg(&target)
        .env("RUSTFLAGS", SIMD);
    process::run(&mut cargo)?;
    let built = target.join(WASM.triple).join(folder);
    let module = |package: &&str| built.join(format!("{}.wasm", package.replace('-', "_")));
    Ok(packages.iter().map(module).collect())
}
