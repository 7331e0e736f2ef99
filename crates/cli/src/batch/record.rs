//! The record of what has been written, beside it: one line of JSON for each picture.
//!
//! A line is added before its picture gets its name, so a picture without a line is not of this
//! work, and a line whose picture is missing or differs is of work that was cut off. Jobs that
//! write to the same folder may share a record: a line is added under the file's lock.

use std::collections::BTreeMap;
use std::fs::{File, OpenOptions};
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::Share;

/// One picture that was written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Record {
    /// Its file's name.
    pub(crate) output: String,
    /// SHA-256 of its bytes.
    pub(crate) output_digest: String,
    /// The file that it was made from, as it was typed.
    pub(crate) input: String,
    /// SHA-256 of that file's bytes.
    pub(crate) input_digest: String,
    /// Its number in the sequence.
    pub(crate) frame: u32,
    /// The look's fingerprint.
    pub(crate) look: String,
    /// The version of the model that rendered it.
    pub(crate) model: u32,
    /// SHA-256 of everything else that its pixels depend on.
    pub(crate) settings: String,
}

impl Record {
    /// Whether another record is of the same work on the same file.
    pub(crate) fn is_same_work(&self, other: &Self) -> bool {
        let without_output = |record: &Self| Self {
            output_digest: String::new(),
            input: String::new(),
            ..record.clone()
        };
        without_output(self) == without_output(other)
    }
}

/// SHA-256 of some bytes, as lower-case hexadecimal digits.
pub(crate) fn digest(bytes: &[u8]) -> String {
    let hash = Sha256::digest(bytes);
    hash.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The records of a folder.
pub(crate) struct Records {
    /// Where lines are added.
    path: PathBuf,
    before: BTreeMap<String, Record>,
}

const BEGINNING: &str = ".lookwright.";
const ENDING: &str = "jsonl";

impl Records {
    /// Those of a folder, which may not be there yet. A share adds to a record of its own.
    ///
    /// # Errors
    /// If a record is there and can't be read.
    pub(crate) fn of(folder: &Path, share: Option<Share>) -> Result<Self> {
        let own = share.map_or_else(String::new, |share| format!("{share}."));
        let mut before = BTreeMap::new();
        let entries = std::fs::read_dir(folder).into_iter().flatten();
        let mut files: Vec<_> = entries.flatten().map(|entry| entry.path()).collect();
        files.sort();
        for path in files {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            if name.starts_with(BEGINNING) && path.extension().is_some_and(|e| e == ENDING) {
                before.extend(read(&path)?);
            }
        }
        Ok(Self {
            path: folder.join(format!("{BEGINNING}{own}{ENDING}")),
            before,
        })
    }

    /// What was known of a file when the run began.
    pub(crate) fn before(&self, name: &str) -> Option<&Record> {
        self.before.get(name)
    }

    /// Adds a line.
    ///
    /// # Errors
    /// If it can't be written.
    pub(crate) fn add(&self, record: &Record) -> Result<()> {
        let line = format!("{}\n", serde_json::to_string(record)?);
        let mut file = self.locked()?;
        file.write_all(line.as_bytes())
            .with_context(|| cannot(&self.path))
    }

    /// Puts the lines in the order of their files, each once: the same work gives the same record.
    ///
    /// # Errors
    /// If it can't be written.
    pub(crate) fn tidy(&self) -> Result<()> {
        // Nothing was written: then there may not even be a folder.
        if !self.path.exists() {
            return Ok(());
        }
        let _locked = self.locked()?;
        let mut text = String::new();
        for record in read(&self.path)?.values() {
            text.push_str(&serde_json::to_string(record)?);
            text.push('\n');
        }
        crate::output::replace(&self.path, text.as_bytes())
    }

    /// The record's file under its lock, which other jobs wait for. It may have been replaced while
    /// this one waited.
    fn locked(&self) -> Result<File> {
        loop {
            let file = OpenOptions::new()
                .create(true)
                .append(true)
                .open(&self.path);
            let file = file.with_context(|| cannot(&self.path))?;
            match file.lock() {
                // Some disks know no locks: a short line is then still written in one go.
                Err(error) if error.kind() == ErrorKind::Unsupported => return Ok(file),
                locked => locked.with_context(|| cannot(&self.path))?,
            }
            let held = file.metadata().with_context(|| cannot(&self.path))?;
            // Gone, or another file, if a job has put a tidy record in its place meanwhile.
            let named = std::fs::metadata(&self.path);
            if named.is_ok_and(|named| same_file(&named) == same_file(&held)) {
                return Ok(file);
            }
        }
    }
}

/// What a file is on the disk.
#[cfg(unix)]
fn same_file(meta: &std::fs::Metadata) -> (u64, u64) {
    use std::os::unix::fs::MetadataExt;
    (meta.dev(), meta.ino())
}

/// Elsewhere a file that is open can't be replaced.
#[cfg(not(unix))]
fn same_file(_: &std::fs::Metadata) -> (u64, u64) {
    (0, 0)
}

fn cannot(path: &Path) -> String {
    format!(
        "{}: the record of what is done can't be written",
        path.display()
    )
}

/// A record's lines by their files, the last of each. A line that was cut off in the middle is none.
fn read(path: &Path) -> Result<BTreeMap<String, Record>> {
    let mut text = String::new();
    let mut file =
        File::open(path).with_context(|| format!("{}: can't be read", path.display()))?;
    file.read_to_string(&mut text)
        .with_context(|| format!("{}: this is no record of what is done", path.display()))?;
    let lines = text
        .lines()
        .filter_map(|line| serde_json::from_str::<Record>(line).ok());
    Ok(lines
        .map(|record| (record.output.clone(), record))
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(output: &str, digest: &str) -> Record {
        Record {
            output: output.into(),
            output_digest: digest.into(),
            input: "in.exr".into(),
            input_digest: "1".into(),
            frame: 1,
            look: "2".into(),
            model: 3,
            settings: "4".into(),
        }
    }

    #[test]
    fn the_last_line_of_a_file_counts_and_one_cut_off_does_not() {
        let folder = tempfile::tempdir().unwrap();
        let records = Records::of(folder.path(), None).unwrap();
        for (name, digest) in [("b", "old"), ("a", "x"), ("b", "new")] {
            records.add(&record(name, digest)).unwrap();
        }
        let mut file = OpenOptions::new().append(true).open(&records.path).unwrap();
        file.write_all(b"{\"output\":\"c\",\"outp").unwrap();
        let again = Records::of(folder.path(), None).unwrap();
        assert_eq!(again.before("b"), Some(&record("b", "new")));
        assert_eq!(again.before("c"), None);
        again.tidy().unwrap();
        let text = std::fs::read_to_string(&records.path).unwrap();
        let lines = [record("a", "x"), record("b", "new")];
        let lines = lines.map(|r| serde_json::to_string(&r).unwrap() + "\n");
        assert_eq!(text, lines.concat());
    }

    #[test]
    fn jobs_that_share_a_record_lose_no_line() {
        let folder = tempfile::tempdir().unwrap();
        std::thread::scope(|scope| {
            for job in 0..4 {
                let folder = folder.path();
                scope.spawn(move || {
                    let records = Records::of(folder, None).unwrap();
                    for number in 0..50 {
                        records
                            .add(&record(&format!("{job}.{number}"), "x"))
                            .unwrap();
                        if number % 10 == 0 {
                            records.tidy().unwrap();
                        }
                    }
                });
            }
        });
        assert_eq!(Records::of(folder.path(), None).unwrap().before.len(), 200);
    }

    /// SHA-256 of "abc": FIPS 180-4, example of its appendix.
    #[test]
    fn the_digest_is_sha_256() {
        assert_eq!(
            digest(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
