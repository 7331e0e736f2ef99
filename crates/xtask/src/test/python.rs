//! Checks against reference libraries, which are Python packages: in an environment of their own,
//! so that nothing is installed anywhere else.

use super::tally::Tally;
use crate::{layout, process};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

const PROGRAMS: [&str; 5] = [
    "python3",
    "python3.13",
    "python3.12",
    "python3.11",
    "python",
];

/// Runs every `check_*.py` of `folder`; each is one test, passed if the script ends with success.
///
/// # Errors
/// When there is no Python 3.11 or later, or the packages cannot be installed.
pub(crate) fn checks(folder: &Path) -> Result<Tally> {
    let scripts = layout::files(folder, |name| {
        name.starts_with("check_") && name.ends_with(".py")
    })?;
    let mut tally = Tally::default();
    if scripts.is_empty() {
        bail!("there is nothing to run in {}", folder.display());
    }
    let python = reference_environment(folder)?;
    for script in scripts {
        let start = Instant::now();
        let mut command = Command::new(&python);
        command
            .current_dir(layout::root())
            .arg(&script)
            .env("LOOKWRIGHT", layout::command_line())
            .env("PYTHONDONTWRITEBYTECODE", "1");
        let passed = process::run_watching(&mut command, |_| {})?;
        let name = script.file_name().unwrap_or_default().to_string_lossy();
        let word = if passed { "passed" } else { "FAILED" };
        println!("{name}: {word} ({:.1} s)", start.elapsed().as_secs_f64());
        tally += Tally::one(passed);
    }
    Ok(tally)
}

/// The Python that the reference libraries of `folder` are installed for.
///
/// # Errors
/// As [`environment`].
pub(crate) fn reference_environment(folder: &Path) -> Result<PathBuf> {
    environment(
        &folder.join("requirements.txt"),
        &layout::target().join("venv"),
    )
}

/// The Python of a virtual environment in `folder` in which the required packages are installed.
///
/// # Errors
/// When there is no Python 3.11 or later, or the packages cannot be installed.
pub(crate) fn environment(requirements: &Path, folder: &Path) -> Result<PathBuf> {
    let wanted = fs::read_to_string(requirements)
        .with_context(|| format!("reading {}", requirements.display()))?;
    let base = base()?;
    let _alone = process::alone("python")?;
    let python = folder.join(if cfg!(windows) {
        "Scripts/python.exe"
    } else {
        "bin/python"
    });
    let stamp = folder.join("installed.txt");
    let installed = format!("{}\n{wanted}", base.display());
    if python.exists() && fs::read_to_string(&stamp).is_ok_and(|before| before == installed) {
        return Ok(python);
    }
    println!("making a Python environment in {}", folder.display());
    process::run(
        Command::new(base)
            .args(["-m", "venv", "--clear"])
            .arg(folder),
    )
    .context(
        "no virtual environment: install Python's venv (on Debian: `apt-get install python3-venv`)",
    )?;
    let mut pip = Command::new(&python);
    pip.args([
        "-m",
        "pip",
        "install",
        "--quiet",
        "--no-input",
        "--disable-pip-version-check",
    ])
    .arg("--requirement")
    .arg(requirements);
    process::run(&mut pip)?;
    fs::write(stamp, installed)?;
    Ok(python)
}

/// The first Python that is new enough.
fn base() -> Result<PathBuf> {
    for program in PROGRAMS
        .iter()
        .filter_map(|name| layout::find_program(&[name]))
    {
        let mut ask = Command::new(&program);
        ask.args(["-c", "import sys; sys.exit(sys.version_info < (3, 11))"]);
        if process::run(&mut ask).is_ok() {
            return Ok(program);
        }
    }
    bail!("no Python: install Python 3.11 or later");
}
