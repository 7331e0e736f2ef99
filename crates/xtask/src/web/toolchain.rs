//! A Rust that can compile to WebAssembly.
//!
//! rustup is asked first. Where it cannot download the target's standard library, Debian's
//! packaged Rust compiles that library from the source which Debian packages beside it.

use crate::{layout, process};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

/// The target that browsers run.
pub(crate) const TARGET: &str = "wasm32-unknown-unknown";

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

/// A way to run cargo for the WebAssembly target.
pub(crate) struct Toolchain(Source);

impl Toolchain {
    /// Finds a toolchain, installing what is missing. The choice of Debian's is kept in a file in
    /// `cache`, so that a machine which cannot reach rustup's server waits for it only once.
    ///
    /// # Errors
    /// When neither way leads to the target; the message says what to install.
    pub(crate) fn find(cache: &Path, wanted: Option<Source>) -> Result<Self> {
        let decision = cache.join("toolchain-is-debian");
        match wanted {
            Some(Source::Rustup) => {
                if !target_is_installed() {
                    add_target()?;
                }
                return Ok(Self(Source::Rustup));
            }
            Some(Source::Debian) => {
                install_debian()?;
                return Ok(Self(Source::Debian));
            }
            None => {}
        }
        if target_is_installed() {
            return Ok(Self(Source::Rustup));
        }
        if decision.exists() && debian_is_installed() {
            return Ok(Self(Source::Debian));
        }
        let Err(refusal) = add_target() else {
            return Ok(Self(Source::Rustup));
        };
        println!("{refusal:#}; compiling the target's library with Debian's Rust instead");
        install_debian()?;
        fs::create_dir_all(cache)?;
        fs::write(&decision, b"")?;
        Ok(Self(Source::Debian))
    }

    /// Cargo with everything set but the sub-command's own arguments, of which `build` must be
    /// the first.
    pub(crate) fn cargo(&self) -> Command {
        match self.0 {
            Source::Rustup => Command::new("cargo"),
            Source::Debian => {
                let mut cargo = Command::new(DEBIAN_CARGO);
                cargo
                    .env("RUSTC", DEBIAN_RUSTC)
                    // Unstable options, which a packaged stable compiler accepts this way.
                    .env("RUSTC_BOOTSTRAP", "1")
                    .env("CARGO_UNSTABLE_BUILD_STD", "std,panic_abort")
                    // Set by the cargo that runs this program, for its own toolchain's sake.
                    .env_remove("RUSTUP_TOOLCHAIN")
                    .env_remove("LD_LIBRARY_PATH");
                cargo
            }
        }
    }
}

/// Whether the compiler in use has the target's standard library beside it.
fn target_is_installed() -> bool {
    let mut rustc = Command::new("rustc");
    rustc
        .current_dir(layout::root())
        .args(["--print", "sysroot"]);
    process::output_of(&mut rustc).is_ok_and(|sysroot| {
        Path::new(&sysroot)
            .join("lib/rustlib")
            .join(TARGET)
            .join("lib")
            .is_dir()
    })
}

/// Asks rustup for the target, of the toolchain that the project pins.
fn add_target() -> Result<()> {
    println!("asking rustup for {TARGET} (at most a minute)");
    let mut rustup = Command::new("rustup");
    rustup
        .current_dir(layout::root())
        .args(["target", "add", TARGET]);
    process::run_within(&mut rustup, Duration::from_secs(60))
        .with_context(|| format!("rustup did not bring {TARGET}"))
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

/// Installs Debian's Rust, if it is not there yet.
fn install_debian() -> Result<()> {
    if debian_is_installed() {
        return Ok(());
    }
    let all = DEBIAN_PACKAGES.join(" ");
    if layout::find_program(&["apt-get"]).is_none() {
        bail!(
            "no WebAssembly target: run `rustup target add {TARGET}` where rustup can download it"
        );
    }
    if !process::is_root() {
        bail!(
            "no WebAssembly target: as root, run `apt-get install {all}` and the lld it links to"
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
