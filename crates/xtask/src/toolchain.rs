//! A Rust that can compile for other targets than the machine: WebAssembly and 64-bit ARM.
//!
//! rustup is asked first. Where it cannot download the target's standard library, Debian's
//! packaged Rust compiles that library from the source which Debian packages beside it.

use crate::{layout, process};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

/// What is compiled for.
pub(crate) struct Target {
    /// Its name, as rustc has it.
    pub(crate) triple: &'static str,
    /// What of the standard library is compiled where it cannot be had ready-made.
    library: &'static str,
}

/// What browsers run.
pub(crate) const WASM: Target = Target {
    triple: "wasm32-unknown-unknown",
    library: "std,panic_abort",
};
/// 64-bit ARM, with tests.
pub(crate) const ARM: Target = Target {
    triple: "aarch64-unknown-linux-gnu",
    library: "std,test",
};

const DEBIAN_PACKAGES: [&str; 4] = ["rustc-web", "cargo-web", "rust-web-src", "rust-web-llvm"];
const DEBIAN_CARGO: &str = "/usr/bin/cargo";
const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
const DEBIAN_LINKER: &str = "/usr/bin/rust-lld";

/// Where the target comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Source {
    /// The standard library that belongs to the toolchain in use, downloaded by rustup.
    Rustup,
    /// Debian's packaged Rust, which compiles the standard library.
    Debian,
}

/// A way to run cargo for a target.
pub(crate) struct Toolchain {
    source: Source,
    target: &'static Target,
}

impl Toolchain {
    /// Finds a toolchain, installing what is missing. The choice of Debian's is kept in a file, so
    /// that a machine which cannot reach rustup's server waits for it only once.
    ///
    /// # Errors
    /// When neither way leads to the target; the message says what to install.
    pub(crate) fn find(target: &'static Target, wanted: Option<Source>) -> Result<Self> {
        let _alone = process::alone("toolchain")?;
        let source = match wanted {
            Some(source) => source,
            None if is_installed(target) => Source::Rustup,
            None if decision().exists() && debian_is_installed() => Source::Debian,
            None => match add(target) {
                Ok(()) => Source::Rustup,
                Err(refusal) => {
                    println!(
                        "{refusal:#}; compiling the target's library with Debian's Rust instead"
                    );
                    install_debian(target)?;
                    fs::write(decision(), b"")?;
                    Source::Debian
                }
            },
        };
        match source {
            Source::Rustup if !is_installed(target) => add(target)?,
            Source::Rustup => {}
            Source::Debian => install_debian(target)?,
        }
        Ok(Self { source, target })
    }

    /// Whether clippy comes with it, for the version that the project is checked with.
    pub(crate) fn has_lints(&self) -> bool {
        self.source == Source::Rustup
    }

    /// Cargo with everything set but the sub-command's own arguments, of which `build` or `test`
    /// must be the first.
    pub(crate) fn cargo(&self) -> Command {
        match self.source {
            Source::Rustup => Command::new("cargo"),
            Source::Debian => {
                let mut cargo = Command::new(DEBIAN_CARGO);
                cargo
                    .env("RUSTC", DEBIAN_RUSTC)
                    // Unstable options, which a packaged stable compiler accepts this way.
                    .env("RUSTC_BOOTSTRAP", "1")
                    .env("CARGO_UNSTABLE_BUILD_STD", self.target.library)
                    // Set by the cargo that runs this program, for its own toolchain's sake.
                    .env_remove("RUSTUP_TOOLCHAIN")
                    .env_remove("LD_LIBRARY_PATH");
                cargo
            }
        }
    }
}

/// Whether the compiler in use has the target's standard library beside it.
fn is_installed(target: &Target) -> bool {
    let mut rustc = Command::new("rustc");
    rustc
        .current_dir(layout::root())
        .args(["--print", "sysroot"]);
    process::output_of(&mut rustc).is_ok_and(|sysroot| {
        Path::new(&sysroot)
            .join("lib/rustlib")
            .join(target.triple)
            .join("lib")
            .is_dir()
    })
}

/// Asks rustup for the target, of the toolchain that the project pins.
fn add(target: &Target) -> Result<()> {
    let triple = target.triple;
    println!("asking rustup for {triple} (at most a minute)");
    let mut rustup = Command::new("rustup");
    rustup
        .current_dir(layout::root())
        .args(["target", "add", triple]);
    process::run_within(&mut rustup, Duration::from_secs(60))
        .with_context(|| format!("rustup did not bring {triple}"))
}

fn debian_is_installed() -> bool {
    [
        DEBIAN_CARGO,
        DEBIAN_RUSTC,
        DEBIAN_LINKER,
        "/usr/lib/rustlib/src/rust/library",
    ]
    .iter()
    .all(|path| Path::new(path).exists())
}

/// Where it is kept that rustup was asked in vain.
fn decision() -> PathBuf {
    layout::target().join("toolchain-is-debian")
}

/// Installs Debian's Rust, if it is not there yet.
fn install_debian(target: &Target) -> Result<()> {
    if debian_is_installed() {
        return Ok(());
    }
    let all = DEBIAN_PACKAGES.join(" ");
    let triple = target.triple;
    if layout::find_program(&["apt-get"]).is_none() {
        bail!(
            "rustc cannot compile for {triple}: run `rustup target add {triple}` where rustup can \
             download it"
        );
    }
    if !process::is_root() {
        bail!(
            "rustc cannot compile for {triple}: as root, run `apt-get install {all}` and install \
             the lld it links to"
        );
    }
    println!("installing {all}");
    process::apt_install(&DEBIAN_PACKAGES)?;
    // rust-lld is a link to the lld of one LLVM version, which the package only recommends.
    if !Path::new(DEBIAN_LINKER).exists() {
        let linker: PathBuf = fs::read_link(DEBIAN_LINKER)
            .with_context(|| format!("Debian's Rust came without {DEBIAN_LINKER}"))?;
        let package = linker
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        process::apt_install(&[&package])?;
    }
    Ok(())
}
