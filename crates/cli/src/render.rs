//! `lookwright render`: pictures and sequences through a look.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use indicatif::{ProgressBar, ProgressStyle};
use lookwright_film::look::Look;
use lookwright_film::spatial::Window;
use lookwright_picture::{OutFormat, Version, develop_with, frame_number};
use lookwright_render::Job;

use crate::args::{Depth, RenderArgs};
use crate::workers::AllCores;
use crate::{files, settings};

pub(crate) fn run(args: &RenderArgs) -> Result<()> {
    let mut look = files::read_look(&args.look)?;
    if args.no_texture {
        look = look.without_texture();
    }
    let outputs = outputs(args)?;
    let progress = if args.inputs.len() > 1 && std::io::stderr().is_terminal() {
        let style = ProgressStyle::with_template("{pos}/{len} {wide_bar} {eta} {msg}")?;
        ProgressBar::new(args.inputs.len() as u64).with_style(style)
    } else {
        ProgressBar::hidden()
    };
    for (index, (input, output)) in args.inputs.iter().zip(&outputs).enumerate() {
        progress.set_message(input.display().to_string());
        let name = input.file_name().and_then(|name| name.to_str());
        let number = name.and_then(frame_number).unwrap_or(index as u32);
        render_one(args, &look, input, output, number)?;
        progress.inc(1);
    }
    progress.finish_and_clear();
    Ok(())
}

fn render_one(
    args: &RenderArgs,
    look: &Look,
    input: &Path,
    output: &Path,
    frame_number: u32,
) -> Result<()> {
    let format = format_of(output, args.depth, args.quality)?;
    let picture = files::read_picture(input)?;
    let name = input.file_name().unwrap_or_default().to_string_lossy();
    let job = Job {
        look: look.clone(),
        frame: settings::frame(&args.frame, Some((&picture, &name)))?,
        delivery: settings::delivery(&args.delivery),
        stage: args.stage,
        window: Window::whole(picture.width as usize, picture.height as usize),
        frame_number,
    };
    let version = if args.before {
        Version::Unstyled
    } else {
        Version::Styled
    };
    let bytes = develop_with(&picture, &job, version, format, &AllCores, |_| Ok(()))
        .with_context(|| format!("{}", output.display()))?;
    files::write(output, &bytes)
}

/// Where each picture goes.
fn outputs(args: &RenderArgs) -> Result<Vec<PathBuf>> {
    let pattern = args.output.to_string_lossy();
    let stem = |input: &Path| {
        input
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned()
    };
    if pattern.contains('%') {
        return Ok(args
            .inputs
            .iter()
            .map(|i| pattern.replace('%', &stem(i)).into())
            .collect());
    }
    let folder = args.output.is_dir() || pattern.ends_with('/');
    if !folder {
        if args.inputs.len() > 1 {
            bail!(
                "{pattern}: several pictures go into a folder (end its name with /) or a pattern such as out/%.png"
            );
        }
        return Ok(vec![args.output.clone()]);
    }
    std::fs::create_dir_all(&args.output)
        .with_context(|| format!("{pattern}: the folder can't be made"))?;
    let named = |input: &PathBuf| args.output.join(format!("{}.{}", stem(input), args.format));
    let outputs: Vec<_> = args.inputs.iter().map(named).collect();
    for (i, output) in outputs.iter().enumerate() {
        if outputs[..i].contains(output) {
            bail!(
                "{}: two of the pictures would be written to this name",
                output.display()
            );
        }
    }
    Ok(outputs)
}

/// The file type by the name's ending and the depth.
fn format_of(output: &Path, depth: Option<Depth>, quality: u8) -> Result<OutFormat> {
    let ending = output
        .extension()
        .unwrap_or_default()
        .to_string_lossy()
        .to_lowercase();
    Ok(match (ending.as_str(), depth) {
        ("jpg" | "jpeg", None | Some(Depth::Eight)) => OutFormat::Jpeg { quality },
        ("png", None | Some(Depth::Eight)) => OutFormat::Png8,
        ("png", Some(Depth::Sixteen)) => OutFormat::Png16,
        ("tif" | "tiff", None | Some(Depth::Sixteen)) => OutFormat::Tiff16,
        ("tif" | "tiff", Some(Depth::F32)) => OutFormat::TiffF32,
        ("exr", None | Some(Depth::F32)) => OutFormat::ExrF32,
        ("exr", Some(Depth::Sixteen)) => OutFormat::ExrHalf,
        ("jpg" | "jpeg" | "png" | "tif" | "tiff" | "exr", Some(_)) => bail!(
            "{}: .{ending} does not hold this depth; .jpg has 8 bits, .png 8 or 16, .tif 16 or f32, .exr f32 (or 16 as half floats)",
            output.display()
        ),
        _ => bail!(
            "{}: end the name with .jpg, .png, .tif or .exr",
            output.display()
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_and_the_depth_choose_the_format() {
        let format = |name: &str, depth| format_of(Path::new(name), depth, 90);
        assert_eq!(
            format("a.PNG", Some(Depth::Sixteen)).unwrap(),
            OutFormat::Png16
        );
        assert_eq!(format("a.tif", None).unwrap(), OutFormat::Tiff16);
        assert!(format("a.jpg", Some(Depth::Sixteen)).is_err());
        assert!(format("a.gif", None).is_err());
    }
}
