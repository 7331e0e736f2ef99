//! Checks against reference libraries, which are Python packages: in an environment of their own,
//! so that nothing is installed anywhere else.

use super::tally::Tally;
use crate::{layout, process};
use anyhow::{Context, Result, anyhow, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Mutex, PoisonError};
use std::thread;
use std::time::Instant;

const PROGRAMS: [&str; 5] = [
    "python3",
    "python3.13",
    "python3.12",
    "python3.11",
    "python",
];

/// How many checks run at a time: most keep one core busy.
const AT_A_TIME: usize = 2;

/// Runs every `check_*.py` of `folder`; each is one test, passed if the script ends with success.
/// What they print comes script by script.
///
/// # Errors
/// When there is no Python 3.11 or later, or the packages cannot be installed.
pub(crate) fn checks(folder: &Path) -> Result<Tally> {
    let scripts = layout::files(folder, |name| {
        name.starts_with("check_") && name.ends_with(".py")
    })?;
    if scripts.is_empty() {
        bail!("there is nothing to run in {}", folder.display());
    }
    let python = reference_environment(folder)?;
    let queue = Mutex::new(scripts.into_iter());
    let next = || queue.lock().unwrap_or_else(PoisonError::into_inner).next();
    let one_by_one = || -> Result<Tally> {
        let mut tally = Tally::default();
        while let Some(script) = next() {
            tally += check(&python, &script)?;
        }
        Ok(tally)
    };
    thread::scope(|scope| {
        let runs: Vec<_> = (0..AT_A_TIME).map(|_| scope.spawn(one_by_one)).collect();
        let mut tally = Tally::default();
        for run in runs {
            tally += run.join().map_err(|_| anyhow!("a check broke off"))??;
        }
        Ok(tally)
    })
}

/// Runs one check and prints what it printed, and what came of it.
fn check(python: &Path, script: &Path) -> Result<Tally> {
    let start = Instant::now();
    let mut command = Command::new(python);
    command
        .current_dir(layout::root())
        .arg(script)
        .env("LOOKWRIGHT", layout::command_line())
        .env("PYTHONDONTWRITEBYTECODE", "1");
    let mut said = String::new();
    let passed = process::lines_of(&mut command, |line| {
        said.push_str(line);
        said.push('\n');
    })?;
    let name = script.file_name().unwrap_or_default().to_string_lossy();
    let word = if passed { "passed" } else { "FAILED" };
    println!(
        "{said}{name}: {word} ({:.1} s)",
        start.elapsed().as_secs_f64()
    );
    Ok(Tally::one(passed))
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
