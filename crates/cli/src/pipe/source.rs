//! What comes through a pipe, frame by frame.

use std::io::Read;
use std::path::Path;

use anyhow::{Context, Result, bail};
use lookwright_picture::{Decoded, Extent, Limits};

use super::{Raw, split, y4m};
use crate::files;
use crate::sequence::Picture;

/// A frame and its number.
pub(super) struct Frame {
    pub(super) number: u32,
    pub(super) picture: Decoded,
    /// The shot that it belongs to, if its file has a number.
    pub(super) shot: Option<String>,
}

/// Where frames come from.
pub(super) enum Source<'a> {
    /// Raw frames, until the stream ends.
    Raw {
        raw: Raw,
        input: Box<dyn Read + 'a>,
        next: u32,
    },
    /// Y4M, until the stream ends.
    Y4m {
        header: y4m::Header,
        input: Box<dyn Read + 'a>,
        next: u32,
    },
    /// Pictures in one stream.
    Stream {
        bytes: Vec<u8>,
        places: std::vec::IntoIter<core::ops::Range<usize>>,
        next: u32,
    },
    /// Files, whose pictures go into a pipe.
    Files(std::slice::Iter<'a, Picture>),
}

impl<'a> Source<'a> {
    /// Of standard input.
    ///
    /// # Errors
    /// If it can't be read or is no picture.
    pub(super) fn standard_input(raw: Option<Raw>, first: u32) -> Result<Self> {
        let mut input = std::io::stdin().lock();
        if let Some(raw) = raw {
            raw.check()?;
            return Ok(Self::Raw {
                raw,
                input: Box::new(input),
                next: first,
            });
        }
        let mut head = Vec::new();
        let read = (&mut input)
            .take(y4m::MAGIC.len() as u64)
            .read_to_end(&mut head);
        read.context("standard input: it can't be read")?;
        if head == y4m::MAGIC {
            return Ok(Self::Y4m {
                header: y4m::Header::read(&mut input)?,
                input: Box::new(input),
                next: first,
            });
        }
        let input = head.as_slice().chain(input);
        let mut bytes = Vec::new();
        let most = Limits::default().max_bytes;
        input
            .take(most + 1)
            .read_to_end(&mut bytes)
            .context("standard input: it can't be read")?;
        if bytes.len() as u64 > most {
            bail!(
                "standard input: pictures of more than {} MiB came in; send raw frames with --raw, \
                 which are read one by one",
                most >> 20
            );
        }
        let places = split::pictures(&bytes)?.into_iter();
        Ok(Self::Stream {
            bytes,
            places,
            next: first,
        })
    }

    /// Frames a second, if the stream says so.
    pub(super) fn rate(&self) -> Option<&str> {
        match self {
            Self::Y4m { header, .. } => header.rate.as_deref(),
            _ => None,
        }
    }

    /// How wide a pixel is for its height, if the stream says so; 0:0 stands for unknown.
    pub(super) fn aspect(&self) -> &str {
        match self {
            Self::Y4m { header, .. } => header.aspect.as_deref().unwrap_or("0:0"),
            _ => "0:0",
        }
    }

    /// How many frames are left, if that is known.
    pub(super) fn left(&self) -> Option<usize> {
        match self {
            Self::Raw { .. } | Self::Y4m { .. } => None,
            Self::Stream { places, .. } => Some(places.len()),
            Self::Files(files) => Some(files.len()),
        }
    }

    /// The next frame; none at the end.
    ///
    /// # Errors
    /// If it is broken or cut off.
    pub(super) fn next(&mut self) -> Result<Option<Frame>> {
        let (next, picture) = match self {
            Self::Raw { raw, input, next } => {
                let mut frame = Vec::new();
                let size = raw.frame_bytes();
                let read = input.take(size as u64).read_to_end(&mut frame);
                match read.context("standard input: it can't be read")? {
                    0 => return Ok(None),
                    some if some < size => bail!(
                        "standard input: the stream ends in the middle of frame {next}: {some} of \
                         {size} bytes"
                    ),
                    _ => (next, raw.picture(&frame)?),
                }
            }
            Self::Y4m {
                header,
                input,
                next,
            } => match header.frame(input, *next)? {
                Some(frame) => (next, header.picture(&frame)?),
                None => return Ok(None),
            },
            Self::Stream {
                bytes,
                places,
                next,
            } => {
                let Some(place) = places.next() else {
                    return Ok(None);
                };
                let shown = Path::new("standard input");
                (
                    next,
                    files::decode_picture(&bytes[place], shown, Extent::Shown, &|_| Ok(()))?,
                )
            }
            Self::Files(files) => {
                let Some(file) = files.next() else {
                    return Ok(None);
                };
                return Ok(Some(Frame {
                    number: file.number.unwrap_or(0),
                    picture: files::read_picture(&file.path)?,
                    shot: file.shot.clone(),
                }));
            }
        };
        let number = *next;
        *next = next.checked_add(1).context("there are too many frames")?;
        Ok(Some(Frame {
            number,
            picture,
            shot: None,
        }))
    }
}
