//! Slurm, which shares a sequence out to many machines: to have its script tested on this one.

use crate::{layout, process};

const DEBIAN_PACKAGES: [&str; 2] = ["slurm-wlm", "munge"];

/// Installs it where it may. Without it the test of its script says so and is left out.
pub(crate) fn want() {
    let there = layout::find_program(&["sbatch"]).is_some();
    if there || layout::find_program(&["apt-get"]).is_none() || !process::is_root() {
        return;
    }
    println!("installing {}", DEBIAN_PACKAGES.join(" "));
    if let Err(error) = process::apt_install(&DEBIAN_PACKAGES) {
        println!("Slurm can't be installed: {error:#}");
    }
}
