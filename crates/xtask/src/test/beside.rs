//! Tasks that run beside the steps of a test run: a linker that optimises a whole program keeps
//! one core busy for minutes, and a download none.

use crate::{layout, process};
use anyhow::{Context, Result, bail};
use std::fs::{self, File};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

/// A task of this program in a process of its own. What it prints is kept until it is waited for,
/// so that it does not come between the lines of a step.
pub(super) struct Beside {
    child: Child,
    line: String,
    log: PathBuf,
}

impl Beside {
    /// Starts `cargo xtask` with a task's name.
    ///
    /// # Errors
    /// When it cannot be started.
    pub(super) fn start(task: &str) -> Result<Self> {
        let mut command = Command::new(std::env::current_exe()?);
        command.arg(task);
        Self::start_command(command, layout::target().join(format!("xtask-{task}.log")))
    }

    fn start_command(mut command: Command, log: PathBuf) -> Result<Self> {
        if let Some(folder) = log.parent() {
            fs::create_dir_all(folder)?;
        }
        let file = File::create(&log).with_context(|| format!("writing {}", log.display()))?;
        let line = process::line_of(&command);
        let child = command
            .stdin(Stdio::null())
            .stderr(file.try_clone()?)
            .stdout(file)
            .spawn()
            .with_context(|| format!("cannot start `{line}`"))?;
        Ok(Self { child, line, log })
    }

    /// Waits for the end and prints what the task printed.
    ///
    /// # Errors
    /// When the task failed.
    pub(super) fn finish(mut self) -> Result<()> {
        let status = self.child.wait()?;
        print!("{}", String::from_utf8_lossy(&fs::read(&self.log)?));
        if !status.success() {
            bail!("`{}` failed ({status})", self.line);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    #[cfg(unix)]
    fn what_a_task_prints_is_kept_and_its_failure_told() {
        let folder = tempfile::tempdir().unwrap();
        let start = |script: &str| {
            let mut shell = Command::new("sh");
            shell.args(["-c", script]);
            Beside::start_command(shell, folder.path().join("logs/task.log")).unwrap()
        };
        start("echo fine; echo as well >&2").finish().unwrap();
        let log = fs::read_to_string(folder.path().join("logs/task.log")).unwrap();
        assert_eq!(log, "fine\nas well\n");
        let error = start("exit 3").finish().unwrap_err();
        assert!(
            error.to_string().starts_with("`sh -c exit 3` failed"),
            "{error}"
        );
    }
}
