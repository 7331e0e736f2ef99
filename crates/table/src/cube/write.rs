//! The `.cube` writer.

use core::fmt::Write;

use super::Cube;
use crate::Label;
use crate::label::one_line;
use crate::number::write_rows;
use lookwright_colour::error::{Error, Result};

/// The text of a `.cube` file: LF line ends, seven decimals, so that every number comes back to
/// within 5e-8.
///
/// `label` gives the words; the title and comments inside `cube` are not repeated.
///
/// # Errors
/// If `cube` holds no table, or curves before a grid whose domain differs between channels, for
/// which the format has no words.
pub fn write(cube: &Cube, label: &Label) -> Result<String> {
    let rows = cube.curve.as_ref().map_or(0, |c| c.samples().len())
        + cube.grid.as_ref().map_or(0, |g| g.nodes().len());
    let mut text = String::with_capacity(rows * 30 + 1024);
    // Readers of the dialect with two tables know comments but no TITLE.
    title(
        &mut text,
        label,
        cube.curve.is_some() && cube.grid.is_some(),
    );
    for words in label.lines() {
        line(&mut text, format_args!("# {words}"));
    }
    // The words of a domain depend on whether one table stands alone or a shaper precedes.
    match (&cube.curve, &cube.grid) {
        (Some(curve), Some(grid)) => {
            line(
                &mut text,
                format_args!("LUT_1D_SIZE {}", curve.samples().len()),
            );
            range(&mut text, "1D", curve.domain_min(), curve.domain_max())?;
            line(&mut text, format_args!("LUT_3D_SIZE {}", grid.size()));
            range(&mut text, "3D", grid.domain_min(), grid.domain_max())?;
            write_rows(&mut text, curve.samples());
            write_rows(&mut text, grid.nodes());
        }
        (Some(curve), None) => {
            line(
                &mut text,
                format_args!("LUT_1D_SIZE {}", curve.samples().len()),
            );
            domain(&mut text, curve.domain_min(), curve.domain_max());
            write_rows(&mut text, curve.samples());
        }
        (None, Some(grid)) => {
            line(&mut text, format_args!("LUT_3D_SIZE {}", grid.size()));
            domain(&mut text, grid.domain_min(), grid.domain_max());
            write_rows(&mut text, grid.nodes());
        }
        (None, None) => return Err(Error::new("there is no table to write")),
    }
    Ok(text)
}

fn line(text: &mut String, words: core::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = text.write_fmt(words);
    text.push('\n');
}

fn title(text: &mut String, label: &Label, as_comment: bool) {
    let title = one_line(&label.title).replace('"', "'");
    if title.is_empty() {
        return;
    }
    if as_comment {
        line(text, format_args!("# {title}"));
    } else {
        line(text, format_args!("TITLE \"{title}\""));
    }
}

fn range(text: &mut String, kind: &str, min: [f32; 3], max: [f32; 3]) -> Result<()> {
    if min != [min[0]; 3] || max != [max[0]; 3] {
        return Err(Error::new(format!(
            "a .cube file with a shaper cannot give the {kind} table a domain that differs between \
             channels"
        )));
    }
    line(
        text,
        format_args!("LUT_{kind}_INPUT_RANGE {} {}", min[0], max[0]),
    );
    Ok(())
}

fn domain(text: &mut String, min: [f32; 3], max: [f32; 3]) {
    if min != [0.0; 3] || max != [1.0; 3] {
        line(
            text,
            format_args!("DOMAIN_MIN {} {} {}", min[0], min[1], min[2]),
        );
        line(
            text,
            format_args!("DOMAIN_MAX {} {} {}", max[0], max[1], max[2]),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::read;
    use crate::{Curve1, Grid3};

    fn label() -> Label {
        Label {
            title: "Night \"ferry\"\nsecond".to_owned(),
            input: "LogC3, full range".to_owned(),
            output: "Rec.709, full range".to_owned(),
            notes: vec!["Grid 5".to_owned(), "x".repeat(400)],
            fingerprint: "ab12".to_owned(),
        }
    }

    #[test]
    fn what_is_written_comes_back_within_half_of_the_seventh_decimal() {
        let grid = Grid3::sample(5, [-0.5; 3], [2.0; 3], |[r, g, b]| {
            [r * r / 3.0, g - b / 7.0, -1e-9]
        })
        .unwrap();
        let curve = Curve1::sample(100, 0.0, 16.0, |x| x / 16.0).unwrap();
        for (curve, grid) in [
            (None, Some(grid.clone())),
            (Some(curve.clone()), None),
            (Some(curve), Some(grid)),
        ] {
            let mut cube = Cube::of_grid(Grid3::sample_codes(2, |rgb| rgb).unwrap());
            cube.curve = curve;
            cube.grid = grid;
            let text = write(&cube, &label()).unwrap();
            assert!(text.lines().all(|line| line.len() <= 250));
            assert!(!text.contains("-0.0000000"));
            let back = read(text.as_bytes()).unwrap();
            let title = "Night 'ferry' second";
            let both = cube.curve.is_some() && cube.grid.is_some();
            assert_eq!(back.title.as_deref(), (!both).then_some(title));
            assert_eq!(back.comments[0] == title, both);
            assert!(
                back.comments
                    .iter()
                    .any(|c| c == "Input: LogC3, full range")
            );
            if let (Some(a), Some(b)) = (&cube.grid, &back.grid) {
                assert_eq!(
                    (a.domain_min(), a.domain_max()),
                    (b.domain_min(), b.domain_max())
                );
                for (a, b) in a.nodes().iter().zip(b.nodes()) {
                    assert!(
                        a.iter()
                            .zip(b)
                            .all(|(a, b)| (a - b).abs() <= 5.1e-8 + a.abs() * 1e-7)
                    );
                }
            }
            assert_eq!(cube.curve.is_some(), back.curve.is_some());
            assert_eq!(cube.grid.is_some(), back.grid.is_some());
        }
    }
}
