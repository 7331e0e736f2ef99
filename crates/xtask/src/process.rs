//! Running other programs, with one clear sentence when that fails.

use crate::layout;
use anyhow::{Context, Result, bail};
use std::fs::{self, File};
use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};
use std::sync::{Mutex, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// The program and its arguments, as a person would type them.
pub(crate) fn line_of(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    words
        .map(|word| word.to_string_lossy())
        .collect::<Vec<_>>()
        .join(" ")
}

/// Runs to the end; anything but success is an error.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let status = command
        .stdin(Stdio::null())
        .status()
        .with_context(|| format!("cannot start `{}`", line_of(command)))?;
    if !status.success() {
        bail!("`{}` failed ({status})", line_of(command));
    }
    Ok(())
}

/// Runs to the end and gives its standard output without the white space around it.
pub(crate) fn output_of(command: &mut Command) -> Result<String> {
    let output = command
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .output()
        .with_context(|| format!("cannot start `{}`", line_of(command)))?;
    if !output.status.success() {
        bail!("`{}` failed ({})", line_of(command), output.status);
    }
    Ok(String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// Runs to the end, printing every line of standard output and handing it to `see` as well.
/// Gives whether the program succeeded.
pub(crate) fn run_watching(command: &mut Command, mut see: impl FnMut(&str)) -> Result<bool> {
    lines_of(command, |line| {
        println!("{line}");
        see(line);
    })
}

/// Runs to the end, handing every line of standard output to `see`. Gives whether the program
/// succeeded.
pub(crate) fn lines_of(command: &mut Command, mut see: impl FnMut(&str)) -> Result<bool> {
    let mut child = command
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .spawn()
        .with_context(|| format!("cannot start `{}`", line_of(command)))?;
    if let Some(stdout) = child.stdout.take() {
        for line in BufReader::new(stdout).split(b'\n') {
            let bytes = line.context("cannot read what a program prints")?;
            see(&String::from_utf8_lossy(&bytes));
        }
    }
    Ok(child.wait()?.success())
}

/// Runs for at most `limit`; then ends the program and calls it a failure.
pub(crate) fn run_within(command: &mut Command, limit: Duration) -> Result<()> {
    let mut child = command
        .stdin(Stdio::null())
        .spawn()
        .with_context(|| format!("cannot start `{}`", line_of(command)))?;
    let start = Instant::now();
    loop {
        if let Some(status) = child.try_wait()? {
            if status.success() {
                return Ok(());
            }
            bail!("`{}` failed ({status})", line_of(command));
        }
        if start.elapsed() > limit {
            child.kill()?;
            child.wait()?;
            bail!(
                "`{}` took longer than {} s",
                line_of(command),
                limit.as_secs()
            );
        }
        thread::sleep(Duration::from_millis(50));
    }
}

/// Whether packages may be installed without asking anybody.
pub(crate) fn is_root() -> bool {
    output_of(Command::new("id").arg("-u")).is_ok_and(|id| id == "0")
}

/// Waits until no other task of this checkout is at the same work; others wait as long as what
/// this gives is held.
pub(crate) fn alone(work: &str) -> Result<File> {
    let folder = layout::target();
    fs::create_dir_all(&folder).with_context(|| format!("making {}", folder.display()))?;
    let path = folder.join(format!("{work}.lock"));
    let file = File::create(&path).with_context(|| format!("writing {}", path.display()))?;
    file.lock()
        .with_context(|| format!("locking {}", path.display()))?;
    Ok(file)
}

/// Whether this process has asked for the lists of packages already.
static UPDATED: Mutex<bool> = Mutex::new(false);

/// Installs Debian packages; for root only.
pub(crate) fn apt_install(packages: &[&str]) -> Result<()> {
    let _alone = alone("apt")?;
    let apt = || {
        let mut apt = Command::new("apt-get");
        apt.env("DEBIAN_FRONTEND", "noninteractive").arg("-qq");
        apt
    };
    let mut updated = UPDATED.lock().unwrap_or_else(PoisonError::into_inner);
    if !*updated {
        run(apt().arg("update"))?;
        *updated = true;
    }
    run(apt()
        .args(["install", "--yes", "--no-install-recommends"])
        .args(packages)
        .stdout(Stdio::null()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_missing_program_is_named() {
        let error = run(Command::new("no-such-program-here").arg("x")).unwrap_err();
        assert_eq!(error.to_string(), "cannot start `no-such-program-here x`");
    }

    #[test]
    #[cfg(unix)]
    fn a_program_that_hangs_is_ended() {
        let start = Instant::now();
        let error = run_within(Command::new("sleep").arg("20"), Duration::from_millis(100));
        assert_eq!(
            error.unwrap_err().to_string(),
            "`sleep 20` took longer than 0 s"
        );
        assert!(start.elapsed() < Duration::from_secs(10));
    }

    #[test]
    #[cfg(unix)]
    fn every_line_is_seen_and_failure_is_told() {
        let mut lines = Vec::new();
        let mut command = Command::new("sh");
        command.args(["-c", "echo one; echo two; exit 3"]);
        let fine = run_watching(&mut command, |line| lines.push(line.to_owned())).unwrap();
        assert!(!fine);
        assert_eq!(lines, ["one", "two"]);
    }
}
