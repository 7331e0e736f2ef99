//! PNG, by the png crate, row by row, with a profile and code points.

use std::borrow::Cow;
use std::io::{self, Write};
use std::sync::{Arc, Mutex};

use lookwright_colour::Result;
use png::chunk::ChunkType;
use png::{BitDepth, ColorType, Compression, Encoder, Info, StreamWriter};

use super::{Encode, Rows, WriteOptions, failed};

/// The file so far. The encoder owns its sink and does not give it back, so both ends share it.
#[derive(Clone, Default)]
struct Sink(Arc<Mutex<Vec<u8>>>);

impl Write for Sink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut file = self
            .0
            .lock()
            .map_err(|_| io::Error::other("the buffer is lost"))?;
        file.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

pub(super) struct PngWriter {
    wide: bool,
    stream: StreamWriter<'static, Sink>,
    sink: Sink,
}

impl PngWriter {
    pub(super) fn new(width: u32, height: u32, wide: bool, options: &WriteOptions) -> Result<Self> {
        let sink = Sink::default();
        let mut info = Info::with_size(width, height);
        info.color_type = ColorType::Rgb;
        info.bit_depth = if wide {
            BitDepth::Sixteen
        } else {
            BitDepth::Eight
        };
        info.icc_profile = options.icc()?.map(Cow::Owned);
        info.exif_metadata = options.exif().map(Cow::Owned);
        let mut encoder = Encoder::with_info(sink.clone(), info).map_err(|e| failed("PNG", e))?;
        encoder.set_compression(Compression::Fast);
        if let Some(text) = options.ascii_description() {
            let keyword = "Description".to_owned();
            encoder
                .add_text_chunk(keyword, text)
                .map_err(|e| failed("PNG", e))?;
        }
        let mut writer = encoder.write_header().map_err(|e| failed("PNG", e))?;
        if let Some(points) = options.colour.cicp(!options.legal_range) {
            writer
                .write_chunk(ChunkType(*b"cICP"), &points)
                .map_err(|e| failed("PNG", e))?;
        }
        let stream = writer.into_stream_writer().map_err(|e| failed("PNG", e))?;
        Ok(Self { wide, stream, sink })
    }
}

impl Encode for PngWriter {
    fn push(&mut self, rows: Rows<'_>) -> Result<()> {
        let written = if self.wide {
            let codes = rows.as_u16()?;
            let bytes: Vec<u8> = codes.iter().flat_map(|code| code.to_be_bytes()).collect();
            self.stream.write_all(&bytes)
        } else {
            self.stream.write_all(&rows.as_u8()?)
        };
        written.map_err(|e| failed("PNG", e))
    }

    fn written(&mut self) -> Vec<u8> {
        let file = self.sink.0.lock();
        file.map_or_else(|_| Vec::new(), |mut file| std::mem::take(&mut file))
    }

    fn finish(self: Box<Self>) -> Result<Vec<u8>> {
        self.stream.finish().map_err(|e| failed("PNG", e))?;
        let mut file = self
            .sink
            .0
            .lock()
            .map_err(|_| failed("PNG", "the buffer is lost"))?;
        Ok(std::mem::take(&mut file))
    }
}
