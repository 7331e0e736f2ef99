//! What a job's texture changes, as a picture.

use lookwright_colour::Result;
use lookwright_film::spatial::Planes;
use lookwright_picture::{OutColour, OutFormat, PictureWriter, Rows, WriteOptions};
use lookwright_render::{Job, OneThread, PictureRows, Renderer, render_strips};

/// Half of what the job's texture changes, `times` so much, around 0.5: a PNG of 16 bits, strip by
/// strip.
pub(super) fn difference(
    source: &impl PictureRows,
    job: &Job,
    times: [f32; 3],
    words: &str,
) -> Result<Vec<u8>> {
    let (width, height) = source.size();
    let options = WriteOptions {
        colour: OutColour::Unmarked,
        legal_range: false,
        description: Some(words.to_owned()),
        ..WriteOptions::default()
    };
    let mut writer = PictureWriter::new(OutFormat::Png16, width as u32, height as u32, &options)?;
    let mut plain = job.clone();
    plain.look = job.look.without_texture();
    let take = |first: usize, textured: Planes| {
        let rows = source.rows(first..first + textured.height);
        let without = Renderer::new(rows).render(&plain);
        let mut codes = vec![0_u16; textured.planes[0].len() * 3];
        for channel in 0..3 {
            let pairs = textured.planes[channel]
                .iter()
                .zip(&without.planes[channel]);
            for (pixel, (with, without)) in codes.chunks_exact_mut(3).zip(pairs) {
                let more = with.clamp(0.0, 1.0) - without.clamp(0.0, 1.0);
                pixel[channel] = code16(more * times[channel]);
            }
        }
        writer.push_rows(Rows::U16(&codes))
    };
    render_strips(source, job, &OneThread, |_| Ok(()), take)?;
    writer.finish()
}

/// 0.5 is code 32768, so that no difference is an even number of codes.
fn code16(more: f32) -> u16 {
    (more * 0.5 * 65535.0 + 32768.5).clamp(0.0, 65535.0) as u16
}
