//! The test chart's patches by name, with their codes, as JSON and as a table to read.

use lookwright_colour::Result;
use lookwright_colour::encoding::{EncodingClass, EncodingId, Range};
use serde_json::{Value, json};

use super::{COLUMNS, Chart, MID_GREY_COLUMN, PATCH_PX, PURITIES, ROWS, encoded};

/// Hues of the chart, 30 degrees apart around the Rec.709 primaries.
const HUES: [&str; COLUMNS] = [
    "red",
    "orange",
    "yellow",
    "yellow-green",
    "green",
    "blue-green",
    "cyan",
    "azure",
    "blue",
    "violet",
    "magenta",
    "rose",
];

/// A patch's place, and what it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    /// Row by letter, column by number: "A7" is mid-grey.
    pub name: String,
    /// "grey" or a hue with its purity.
    pub what: String,
    /// Stops above mid-grey.
    pub stops: f64,
}

/// The patches, row by row.
#[must_use]
pub fn patches() -> Vec<Patch> {
    (0..COLUMNS * ROWS).map(patch).collect()
}

fn patch(index: usize) -> Patch {
    let (row, column) = (index / COLUMNS, index % COLUMNS);
    let letter = char::from(b'A' + row as u8);
    let (what, stops) = match row {
        0 => ("grey".to_owned(), column as f64 - MID_GREY_COLUMN as f64),
        1 => ("grey".to_owned(), column as f64 / 2.0 - 2.75),
        _ => (
            format!("{}, purity {}", HUES[column], PURITIES[(row - 2) % 3]),
            if row < 5 { 0.0 } else { 1.5 },
        ),
    };
    Patch {
        name: format!("{letter}{}", column + 1),
        what,
        stops,
    }
}

/// How far one stop reaches at mid-grey, in codes of 10 bits of an encoding in a range; none for light, of
/// which a stop is the double.
///
/// # Errors
/// None for the ranges there are.
pub fn codes_per_stop(encoding: EncodingId, range: Range) -> Result<Option<f64>> {
    if encoding.info().class == EncodingClass::SceneLinear {
        return Ok(None);
    }
    let half = libm::sqrt(2.0);
    let greys = [0.18 / half, 0.18 * half].map(|light| [light; 3]);
    let codes = encoded(&greys, encoding, range)?;
    Ok(Some(f64::from(codes[1][1] - codes[0][1]) * 1023.0))
}

/// What a look makes of the chart: the picture's name beside it, and its codes.
pub struct Expected {
    /// The picture's file.
    pub file: String,
    /// The look's name, stock and fingerprint, and the output, as the manifest has them.
    pub about: Value,
    /// Codes of 1, patch by patch.
    pub codes: Vec<[f32; 3]>,
}

impl Chart {
    /// The chart and what has to come of it, for programs.
    ///
    /// # Errors
    /// None for the ranges there are.
    pub fn to_json(&self, file: &str, expected: &[Expected]) -> Result<Value> {
        let rounded = |v: f32| (f64::from(v) * 1e6).round() / 1e6;
        let patches = patches().into_iter().zip(self.patches());
        let patches: Vec<_> = patches
            .enumerate()
            .map(|(i, (patch, code))| {
                let out: Vec<_> = expected.iter().map(|e| e.codes[i].map(rounded)).collect();
                json!({
                    "name": patch.name, "what": patch.what, "stops": patch.stops,
                    "in": code.map(rounded), "out": out,
                })
            })
            .collect();
        let files = expected.iter().map(|e| {
            let mut about = e.about.clone();
            about["file"] = e.file.clone().into();
            about
        });
        let files: Vec<_> = files.collect();
        Ok(json!({
            "file": file,
            "input": { "encoding": self.encoding.id(), "range": self.range.id() },
            "codes_per_stop": codes_per_stop(self.encoding, self.range)?,
            "columns": COLUMNS, "rows": ROWS, "patch_px": PATCH_PX,
            "out": files,
            "patches": patches,
        }))
    }

    /// The same to read: a line for each patch, codes of 10 bits, light as it is.
    ///
    /// # Errors
    /// None for the ranges there are.
    pub fn to_text(&self, expected: &[Expected]) -> Result<String> {
        let is_light = self.encoding.info().class == EncodingClass::SceneLinear;
        let mut text = format!(
            "Test chart, {}, {} range: {COLUMNS} x {ROWS} patches of {PATCH_PX} pixels.\n\
             Rows A to H from the top, columns 1 to {COLUMNS} from the left; A7 is mid-grey.\n",
            self.encoding.info().label,
            self.range.id()
        );
        match codes_per_stop(self.encoding, self.range)? {
            Some(codes) => text.push_str(&format!(
                "One stop is {codes:.1} codes of 10 bits here, at mid-grey.\n"
            )),
            None => text.push_str("One stop is the double of the light.\n"),
        }
        for (i, e) in expected.iter().enumerate() {
            text.push_str(&format!("Out {}: {}\n", i + 1, e.file));
        }
        let unit = if is_light {
            "light"
        } else {
            "codes of 10 bits"
        };
        text.push_str(&format!("\npatch  stops  {:<26}in: {unit:<18}", "what"));
        for i in 0..expected.len() {
            text.push_str(&format!(
                "{:<22}",
                format!("out {}: codes of 10 bits", i + 1)
            ));
        }
        text = text.trim_end().to_owned() + "\n";
        let codes = |code: [f32; 3]| {
            let code = code.map(|v| format!("{:>6.1}", v * 1023.0));
            format!("{:<22}", code.join(" "))
        };
        for (i, (patch, code)) in patches().iter().zip(self.patches()).enumerate() {
            let given = match is_light {
                true => format!("{:<22}", code.map(|v| format!("{v:>6.4}")).join(" ")),
                false => codes(*code),
            };
            let out: String = expected.iter().map(|e| codes(e.codes[i])).collect();
            let line = format!(
                "{:<5}  {:>5}  {:<26}{given}{out}",
                patch.name, patch.stops, patch.what
            );
            text.push_str(line.trim_end());
            text.push('\n');
        }
        Ok(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One stop at mid-grey: S-Log3 261.5 log10(2) 0.18 / 0.19 = 74.6 codes of 10 bits (Sony's formula, 2013:
    /// 420 + 261.5 log10((x + .01) / .19)).
    #[test]
    fn a_stop_of_s_log3_is_as_many_codes_as_its_formula_says() {
        let codes = |range| codes_per_stop(EncodingId::SLog3SGamut3Cine, range).unwrap();
        let formula = 261.5 * std::f64::consts::LOG10_2 * 0.18 / 0.19;
        assert!((codes(Range::Full).unwrap() - formula).abs() < 0.2);
        assert!((codes(Range::Legal).unwrap() - formula * 876.0 / 1023.0).abs() < 0.2);
        assert_eq!(
            codes_per_stop(EncodingId::AcesCg, Range::Full).unwrap(),
            None
        );
    }

    #[test]
    fn patches_are_named_by_row_and_column() {
        let patches = patches();
        let named = |name: &str| patches.iter().find(|p| p.name == name).unwrap();
        assert_eq!(
            (named("A7").stops, named("A7").what.as_str()),
            (0.0, "grey")
        );
        assert_eq!(named("B12").stops, 2.75);
        assert_eq!(named("C1").what, "red, purity 0.2");
        assert_eq!(
            (named("H9").stops, named("H9").what.as_str()),
            (1.5, "blue, purity 0.6")
        );
    }
}
