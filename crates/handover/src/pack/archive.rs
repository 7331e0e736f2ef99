//! The zip: the same entries give the same bytes, whatever the clock and the machine.

use std::io::{Cursor, Seek, Write};

use lookwright_colour::{Error, Result};
use sha2::{Digest, Sha256};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

/// Fast enough for hundreds of tables; their text shrinks to about a third at any level.
const LEVEL: i64 = 4;

/// A file of an archive.
#[derive(Clone)]
pub(crate) struct Sum {
    pub(crate) path: String,
    /// SHA-256 in hexadecimals.
    pub(crate) sha256: String,
    pub(crate) bytes: usize,
}

/// Files that a worker made and compressed: an archive of their own.
pub(crate) struct Part {
    zip: Vec<u8>,
    sums: Vec<Sum>,
}

impl Part {
    pub(crate) fn paths(&self) -> impl Iterator<Item = &str> {
        self.sums.iter().map(|sum| sum.path.as_str())
    }
}

impl Archive<Cursor<Vec<u8>>> {
    pub(crate) fn into_part(self) -> Result<Part> {
        let sums = self.sums.clone();
        Ok(Part {
            zip: self.finish()?.into_inner(),
            sums,
        })
    }
}

pub(crate) struct Archive<W: Write + Seek> {
    zip: ZipWriter<W>,
    sums: Vec<Sum>,
}

impl<W: Write + Seek> Archive<W> {
    pub(crate) fn new(out: W) -> Self {
        Self {
            zip: ZipWriter::new(out),
            sums: Vec::new(),
        }
    }

    /// Adds a file. Pictures are compressed already and are stored as they are.
    pub(crate) fn add(&mut self, path: &str, bytes: &[u8]) -> Result<()> {
        let is_picture = [".png", ".jpg", ".exr"].iter().any(|e| path.ends_with(e));
        // 1 January 1980, the format's first day: an entry has no other time.
        let options = SimpleFileOptions::default()
            .last_modified_time(DateTime::default())
            .unix_permissions(0o644);
        let options = if is_picture {
            options.compression_method(CompressionMethod::Stored)
        } else {
            options
                .compression_method(CompressionMethod::Deflated)
                .compression_level(Some(LEVEL))
        };
        let failed = |why: String| Error::new(format!("{path} can't be added to the zip: {why}"));
        self.zip
            .start_file(path, options)
            .map_err(|e| failed(e.to_string()))?;
        self.zip
            .write_all(bytes)
            .map_err(|e| failed(e.to_string()))?;
        let hash = Sha256::digest(bytes);
        self.sums.push(Sum {
            path: path.to_owned(),
            sha256: hash.iter().map(|byte| format!("{byte:02x}")).collect(),
            bytes: bytes.len(),
        });
        Ok(())
    }

    /// Adds another archive's files as they are, compressed already.
    pub(crate) fn absorb(&mut self, part: Part) -> Result<()> {
        let failed =
            |why: zip::result::ZipError| Error::new(format!("the zip can't be written: {why}"));
        let source = ZipArchive::new(Cursor::new(part.zip)).map_err(failed)?;
        self.zip.merge_archive(source).map_err(failed)?;
        self.sums.extend(part.sums);
        Ok(())
    }

    /// Every file so far, in order.
    pub(crate) fn sums(&self) -> &[Sum] {
        &self.sums
    }

    pub(crate) fn finish(self) -> Result<W> {
        let failed =
            |why: zip::result::ZipError| Error::new(format!("the zip can't be completed: {why}"));
        self.zip.finish().map_err(failed)
    }
}
