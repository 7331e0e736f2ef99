//! The tests that hold vectors to the scalar reference, on vectors that this machine lacks: NEON,
//! under QEMU's emulation of one program.

use super::tally::Tally;
use crate::toolchain::{ARM, Toolchain};
use crate::{layout, process};
use anyhow::{Result, bail};
use std::env::consts;
use std::process::Command;

const LINKER: &str = "aarch64-linux-gnu-gcc";
const EMULATOR: &str = "qemu-aarch64";
/// Where Debian puts the C library of the other machine.
const LIBRARIES: &str = "/usr/aarch64-linux-gnu";
const DEBIAN_PACKAGES: [&str; 3] = [
    "gcc-aarch64-linux-gnu",
    "libc6-dev-arm64-cross",
    "qemu-user",
];

/// Runs the comparisons of the fast path on NEON. On a machine that has NEON itself, and where
/// there is neither Debian nor QEMU, there is nothing to do here.
///
/// # Errors
/// When they do not compile, or the emulator broke off.
pub(crate) fn neon() -> Result<Tally> {
    if consts::ARCH == "aarch64" {
        println!("this machine has NEON: the tests above ran on it");
        return Ok(Tally::default());
    }
    if !need()? {
        println!(
            "left out: needs Linux with {LINKER} and {EMULATOR} (Debian: `apt-get install {}`)",
            DEBIAN_PACKAGES.join(" ")
        );
        return Ok(Tally::left_out());
    }
    let mut tally = Tally::default();
    let mut command = Toolchain::find(&ARM, None)?.cargo();
    compile_for_arm(&mut command)
        .args(["test", "--no-fail-fast", "--target", ARM.triple])
        .args(["--package=lookwright-render", "--lib", "--", "fast::"]);
    let passed = process::run_watching(&mut command, |line| tally.see(line))?;
    if tally.passed == 0 || (!passed && tally.failed == 0) {
        bail!("the comparisons on NEON did not build, or broke off");
    }
    Ok(tally)
}

/// Installs linker and emulator where that is possible; gives whether they are there.
///
/// # Errors
/// When packages cannot be installed.
pub(crate) fn need() -> Result<bool> {
    let there = || {
        [LINKER, EMULATOR]
            .iter()
            .all(|it| layout::find_program(&[it]).is_some())
    };
    if !there() && layout::find_program(&["apt-get"]).is_some() && process::is_root() {
        println!("installing {}", DEBIAN_PACKAGES.join(" "));
        process::apt_install(&DEBIAN_PACKAGES)?;
    }
    Ok(consts::OS == "linux" && there())
}

fn compile_for_arm(command: &mut Command) -> &mut Command {
    let name = ARM.triple.to_uppercase().replace('-', "_");
    command
        .current_dir(layout::root())
        .env(format!("CARGO_TARGET_{name}_LINKER"), LINKER)
        .env(
            format!("CARGO_TARGET_{name}_RUNNER"),
            format!("{EMULATOR} -L {LIBRARIES}"),
        )
}
