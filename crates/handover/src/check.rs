//! Any table file, ours or not, held against the health checks.

use lookwright_colour::encoding::{EncodingId, Range, ScreenId};
use lookwright_colour::{Error, Result};
use lookwright_picture::{Samples, decode};
use lookwright_table::health::{Health, Said, Setting, Severity, examine};
use lookwright_table::{Grid3, Shaper, hald, read_table};
use serde_json::{Value, json};

use crate::picture;

/// What a table is held against: what is left open is taken from the table's own header.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Asked {
    /// The encoding that goes in, and how its codes fill the scale.
    pub source: Option<(EncodingId, Range)>,
    /// The screen that the table is for.
    pub screen: Option<ScreenId>,
    /// How the screen's codes fill the scale.
    pub range: Option<Range>,
    /// What is taken where nobody says.
    pub likely: Setting,
}

/// Who said something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum By {
    Asked,
    Header,
    Nobody,
}

impl By {
    fn of(asked: bool, header: bool) -> Self {
        match (asked, header) {
            (true, _) => Self::Asked,
            (false, true) => Self::Header,
            (false, false) => Self::Nobody,
        }
    }

    fn id(self) -> &'static str {
        match self {
            Self::Asked => "asked",
            Self::Header => "header",
            Self::Nobody => "nobody",
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Asked => "as asked",
            Self::Header => "as its header says",
            Self::Nobody => "as nothing is said",
        }
    }
}

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
    /// Who said what goes in, and what comes out.
    by: [By; 2],
}

/// Reads a table of any known format and examines it for a delivery.
///
/// # Errors
/// One sentence if the file is no table, with the line that it concerns where it has lines; or if light is
/// said to go in in another range than full.
pub fn check(bytes: &[u8], file_name: &str, asked: Asked) -> Result<Checked> {
    let read = read(bytes, file_name)?;
    let source = asked.source.or(read.said.source);
    let output = read.said.output;
    let by = [
        By::of(asked.source.is_some(), read.said.source.is_some()),
        By::of(
            asked.screen.is_some() || asked.range.is_some(),
            output.is_some(),
        ),
    ];
    let screen = asked.screen.or(output.map(|it| it.0));
    let range = asked.range.or(output.map(|it| it.1));
    let setting = Setting {
        source,
        screen: screen.unwrap_or(asked.likely.screen),
        range: range.unwrap_or(asked.likely.range),
        said: by[1] != By::Nobody,
        // A header that says so in our words is of a table of ours, and so its shaper is ours.
        shaper: (by[0] == By::Header).then(Shaper::scene),
        ..asked.likely
    };
    Ok(Checked {
        format: read.format,
        size: read.grid.size(),
        remarks: read.remarks,
        health: examine(&read.grid, setting, None)?,
        grid: read.grid,
        setting,
        by,
    })
}

struct Read {
    format: &'static str,
    remarks: Vec<String>,
    said: Said,
    grid: Grid3,
}

fn read(bytes: &[u8], file_name: &str) -> Result<Read> {
    if bytes.starts_with(b"\x89PNG") {
        return Ok(Read {
            format: "PNG lattice picture",
            remarks: Vec::new(),
            said: Said::default(),
            grid: lattice_picture(bytes)?,
        });
    }
    let table = read_table(bytes, file_name)?;
    Ok(Read {
        format: table.format(),
        remarks: table.remarks().to_vec(),
        said: Said::of(table.words()),
        grid: table.lattice()?,
    })
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
        let mut text = format!("{}, grid {}: {verdict}\n", self.format, self.size);
        let [source, output] = self.by;
        match self.setting.source {
            Some((encoding, range)) => text.push_str(&format!(
                "in: {}, {} range, {}\n",
                encoding.info().label,
                range.id(),
                source.words()
            )),
            None => text.push_str("in: not said (--from ENCODING says it)\n"),
        }
        text.push_str(&format!(
            "out: {}, {} range, {}\n\n",
            self.setting.screen.info().label,
            self.setting.range.id(),
            output.words()
        ));
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

    /// The report for machines: `{"format", "size", "remarks", "in", "out", "worst", "diagnosis",
    /// "findings"}`, the last three as in [`Health::to_json`]. In and out have an `encoding` (or null) or a
    /// `screen`, its `range`, and who said so in `by`: `asked`, `header` or `nobody`.
    #[must_use]
    pub fn to_json(&self) -> Value {
        let mut report = self.health.to_json();
        report["format"] = json!(self.format);
        report["size"] = json!(self.size);
        report["remarks"] = json!(self.remarks);
        report["in"] = json!({
            "encoding": self.setting.source.map(|it| it.0.id()),
            "range": self.setting.source.map(|it| it.1.id()),
            "by": self.by[0].id(),
        });
        report["out"] = json!({
            "screen": self.setting.screen.id(),
            "range": self.setting.range.id(),
            "by": self.by[1].id(),
        });
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
        let checked = check(&png, "x.png", Asked::default()).unwrap();
        assert!(
            checked
                .picture("x.png")
                .unwrap()
                .contains(">PNG lattice picture, grid 16")
        );
        assert_eq!((checked.size, checked.format), (16, "PNG lattice picture"));
        assert_eq!(checked.worst(), Severity::Info);
        let odd = png16(63, &codes[..63 * 63 * 3], OutColour::Unmarked, false, "").unwrap();
        let refusal = check(&odd, "x.png", Asked::default()).unwrap_err();
        assert!(refusal.message().contains("not a lattice picture"));
    }

    #[test]
    fn a_table_that_turns_back_is_serious() {
        let turned = Grid3::sample_codes(9, |rgb| rgb.map(|v| 1.0 - v)).unwrap();
        let text = cube::write(&Cube::of_grid(turned), &Label::default()).unwrap();
        let checked = check(text.as_bytes(), "x.cube", Asked::default()).unwrap();
        assert_eq!(checked.worst(), Severity::Serious);
        assert!(
            checked
                .to_text()
                .starts_with(".cube, grid 9: something here will show.\n")
        );
        assert_eq!(checked.to_json()["worst"], "serious");
    }

    /// What nobody asked is taken from the header, and what was asked goes before it.
    #[test]
    fn a_header_says_what_goes_in_and_comes_out() {
        let grid = Grid3::sample_codes(9, |rgb| rgb).unwrap();
        let label = Label {
            input: "VLog, full range".to_owned(),
            output: "Display P3, legal range".to_owned(),
            ..Label::default()
        };
        let text = cube::write(&Cube::of_grid(grid), &label).unwrap();
        let said = check(text.as_bytes(), "", Asked::default()).unwrap();
        assert_eq!(
            said.to_json()["in"],
            json!({"encoding": "vlog", "range": "full", "by": "header"})
        );
        assert_eq!(
            said.to_json()["out"],
            json!({"screen": "display-p3", "range": "legal", "by": "header"})
        );
        assert_eq!(said.to_json()["diagnosis"], "log-taken-as-picture");
        let asked = Asked {
            source: Some((EncodingId::Rec709, Range::Full)),
            screen: Some(ScreenId::Rec709),
            range: Some(Range::Full),
            ..Asked::default()
        };
        let asked = check(text.as_bytes(), "", asked).unwrap();
        assert!(
            asked
                .to_text()
                .contains("\nin: Rec.709, gamma 2.4, full range, as asked\n")
        );
        assert_eq!(asked.to_json()["diagnosis"], Value::Null);
        assert_eq!(asked.worst(), Severity::Info);
    }
}
