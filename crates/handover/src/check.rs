//! Any table file, ours or not, held against the health checks.

use lookwright_colour::{Error, Result};
use lookwright_picture::{Samples, decode};
use lookwright_table::health::{Health, Setting, Severity, examine};
use lookwright_table::{Grid3, hald, read_table};
use serde_json::{Value, json};

use crate::picture;

/// What was found out about a table file.
#[derive(Clone, Debug)]
pub struct Checked {
    /// The name of the format, for people.
    pub format: &'static str,
    /// Points along each axis of the lattice that was judged.
    pub size: usize,
    /// What the reader passed over, with lines.
    pub remarks: Vec<String>,
    /// The findings, worst first.
    pub health: Health,
    grid: Grid3,
    setting: Setting,
}

/// Reads a table of any known format and examines it for a delivery.
///
/// # Errors
/// One sentence if the file is no table, with the line that it concerns where it has lines.
pub fn check(bytes: &[u8], file_name: &str, setting: Setting) -> Result<Checked> {
    let (format, remarks, grid) = read(bytes, file_name)?;
    Ok(Checked {
        format,
        size: grid.size(),
        remarks,
        health: examine(&grid, setting, None)?,
        grid,
        setting,
    })
}

fn read(bytes: &[u8], file_name: &str) -> Result<(&'static str, Vec<String>, Grid3)> {
    if bytes.starts_with(b"\x89PNG") {
        return Ok(("PNG lattice picture", Vec::new(), lattice_picture(bytes)?));
    }
    let table = read_table(bytes, file_name)?;
    Ok((table.format(), table.remarks().to_vec(), table.lattice()?))
}

fn lattice_picture(bytes: &[u8]) -> Result<Grid3> {
    let picture = decode(bytes)?;
    let codes: Vec<u16> = match picture.samples {
        Samples::U16(codes) => codes,
        Samples::U8(codes) => codes
            .into_iter()
            .map(|code| u16::from(code) * 257)
            .collect(),
        Samples::F32(_) => return Err(Error::new("a lattice picture has 8 or 16 bits")),
    };
    hald::from_pixels(picture.width as usize, picture.height as usize, &codes)
}

impl Checked {
    /// The worst severity found.
    #[must_use]
    pub fn worst(&self) -> Severity {
        self.health.worst()
    }

    /// The report for people.
    #[must_use]
    pub fn to_text(&self) -> String {
        let verdict = match self.worst() {
            Severity::Info => "nothing here will hurt.",
            Severity::Minor => "something here may show in some pictures.",
            Severity::Serious => "something here will show.",
        };
        let mut text = format!("{}, grid {}: {verdict}\n\n", self.format, self.size);
        text.push_str(&self.health.to_text());
        for remark in &self.remarks {
            text.push_str(&format!("remark: {remark}\n"));
        }
        text
    }

    /// A picture of the table, as SVG: the grey axis, its tint, slices, the lattice, the findings.
    ///
    /// # Errors
    /// If the setting cannot be judged.
    pub fn picture(&self, file_name: &str) -> Result<String> {
        let screen = self.setting.screen.info().label;
        let about = format!(
            "{}, grid {}, seen as {screen}, {} range",
            self.format,
            self.size,
            self.setting.range.id()
        );
        picture::svg(&self.grid, self.setting, &self.health, file_name, &about)
    }

    /// The report for machines: `{"format", "size", "remarks", "worst", "findings"}`, findings as
    /// in [`Health::to_json`].
    #[must_use]
    pub fn to_json(&self) -> Value {
        let mut report = self.health.to_json();
        report["format"] = json!(self.format);
        report["size"] = json!(self.size);
        report["remarks"] = json!(self.remarks);
        report
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::png::png16;
    use lookwright_picture::OutColour;
    use lookwright_table::{Cube, Label, cube};

    #[test]
    fn a_lattice_picture_is_read_as_the_table_it_is() {
        let codes = hald::identity(4).unwrap();
        let png = png16(64, &codes, OutColour::Unmarked, false, "identity").unwrap();
        let checked = check(&png, "x.png", Setting::default()).unwrap();
        assert!(
            checked
                .picture("x.png")
                .unwrap()
                .contains(">PNG lattice picture, grid 16")
        );
        assert_eq!((checked.size, checked.format), (16, "PNG lattice picture"));
        assert_eq!(checked.worst(), Severity::Info);
        let odd = png16(63, &codes[..63 * 63 * 3], OutColour::Unmarked, false, "").unwrap();
        let refusal = check(&odd, "x.png", Setting::default()).unwrap_err();
        assert!(refusal.message().contains("not a lattice picture"));
    }

    #[test]
    fn a_table_that_turns_back_is_serious() {
        let turned = Grid3::sample_codes(9, |rgb| rgb.map(|v| 1.0 - v)).unwrap();
        let text = cube::write(&Cube::of_grid(turned), &Label::default()).unwrap();
        let checked = check(text.as_bytes(), "x.cube", Setting::default()).unwrap();
        assert_eq!(checked.worst(), Severity::Serious);
        assert!(
            checked
                .to_text()
                .starts_with(".cube, grid 9: something here will show.\n")
        );
        assert_eq!(checked.to_json()["worst"], "serious");
    }
}
