//! `.spi1d`.

use crate::curve::CURVE_SIZE_MIN;
use crate::lines::{Lines, numbers};
use crate::number::{quoted, size_refused, write_rows};
use crate::{CURVE_SIZE_MAX, Curve1, Label};
use lookwright_colour::error::{Error, Result};

/// What stands before the rows.
struct Header {
    domain: [f32; 2],
    length: usize,
    components: usize,
}

/// Reads a `.spi1d` table. Memory: below 4 times `bytes.len()` plus 64 kB.
///
/// # Errors
/// One sentence with the line it concerns.
pub fn read_curve(bytes: &[u8]) -> Result<Curve1> {
    let mut lines = Lines::new(bytes);
    let header = header(&mut lines)?;
    let mut rows = lines.room(header.length);
    loop {
        let line = lines.expect("the closing }")?;
        if line == "}" {
            break;
        }
        if rows.len() == header.length {
            return Err(lines.refuse(format!(
                "Length says {} rows, and more follow",
                header.length
            )));
        }
        let row = match header.components {
            1 => numbers(&line, "a row").map(|[v]| [v; 3]),
            2 => numbers(&line, "a row").map(|[r, g]| [r, g, 0.0]),
            _ => numbers(&line, "a row"),
        };
        rows.push(row.map_err(|error| lines.placed(error))?);
    }
    if rows.len() != header.length {
        return Err(lines.refuse(format!(
            "expected {} rows, found {}: the table is cut short",
            header.length,
            rows.len()
        )));
    }
    let [low, high] = header.domain;
    Curve1::from_samples([low; 3], [high; 3], rows).map_err(|error| lines.placed(error))
}

fn header(lines: &mut Lines<'_>) -> Result<Header> {
    let mut version = None;
    let mut domain = [0.0, 1.0];
    let (mut length, mut components) = (None, None);
    loop {
        let line = lines.expect("the opening {")?;
        let (name, rest) = line
            .split_once(char::is_whitespace)
            .unwrap_or((line.as_ref(), ""));
        let whole = || {
            rest.trim().parse::<usize>().map_err(|_| {
                lines.refuse(format!(
                    "{name} has one whole number, found {}",
                    quoted(rest)
                ))
            })
        };
        match name {
            "{" => break,
            "Version" => version = Some(whole()?),
            "Length" => length = Some(whole()?),
            "Components" => components = Some(whole()?),
            "From" => {
                domain = numbers(rest, "From").map_err(|error| lines.placed(error))?;
            }
            _ if name.starts_with('#') => {}
            _ => {
                return Err(lines.refuse(format!(
                    "{} is not a word of a .spi1d table; known are Version, From, Length, \
                     Components",
                    quoted(name)
                )));
            }
        }
    }
    let missing = |what: &str| lines.refuse(format!("{what} is missing before the rows"));
    let length = length.ok_or_else(|| missing("Length"))?;
    let components = components.ok_or_else(|| missing("Components"))?;
    match version {
        None => return Err(missing("Version")),
        Some(1) => {}
        Some(other) => {
            return Err(lines.refuse(format!("Version {other} is not known; only 1 is")));
        }
    }
    if !(1..=3).contains(&components) {
        return Err(lines.refuse(format!(
            "Components {components} is not known; it is 1, 2 or 3"
        )));
    }
    if !(CURVE_SIZE_MIN..=CURVE_SIZE_MAX).contains(&length) {
        return Err(lines.placed(size_refused("1D", length, CURVE_SIZE_MIN, CURVE_SIZE_MAX)));
    }
    Ok(Header {
        domain,
        length,
        components,
    })
}

/// The text of a `.spi1d` file: seven decimals, or one column as exact as it is where channels are the
/// same.
///
/// # Errors
/// If the curve's domain differs between channels, for which the format has no words.
pub fn write_curve(curve: &Curve1, label: &Label) -> Result<String> {
    let ([low, ..], [high, ..]) = (curve.domain_min(), curve.domain_max());
    if curve.domain_min() != [low; 3] || curve.domain_max() != [high; 3] {
        return Err(Error::new(
            "a .spi1d file cannot give curves a domain that differs between channels",
        ));
    }
    let samples = curve.samples();
    let is_grey = samples.iter().all(|[r, g, b]| r == g && g == b);
    let components = if is_grey { 1 } else { 3 };
    let mut text = format!(
        "Version 1\nFrom {low} {high}\nLength {}\nComponents {components}\n{{\n",
        samples.len()
    );
    match is_grey {
        // As exact as they are: light near black has few decimals.
        true => samples.iter().for_each(|[grey, ..]| {
            text.push_str(&grey.to_string());
            text.push('\n');
        }),
        false => write_rows(&mut text, samples),
    }
    text.push_str("}\n");
    label.write_lines(&mut text, "# ");
    Ok(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_comes_back() {
        let curve = Curve1::sample(9, -0.5, 2.0, |x| x * x / 3.0).unwrap();
        let label = Label {
            title: "Night ferry".to_owned(),
            ..Label::default()
        };
        let text = write_curve(&curve, &label).unwrap();
        assert!(text.ends_with("}\n# Night ferry\n"));
        let back = read_curve(text.as_bytes()).unwrap();
        assert_eq!(back.domain_min(), [-0.5; 3]);
        for (a, b) in curve.samples().iter().zip(back.samples()) {
            assert!((a[1] - b[1]).abs() < 6e-8);
        }
    }

    #[test]
    fn columns_that_are_missing_are_filled() {
        let file = |components: usize, rows: &str| {
            format!("Version 1\nFrom 0 2\nLength 2\nComponents {components}\n{{\n{rows}\n}}\n")
        };
        let one = read_curve(file(1, "0\n1").as_bytes()).unwrap();
        assert_eq!(one.apply([2.0, 1.0, 0.5]), [1.0, 0.5, 0.25]);
        let two = read_curve(file(2, "0 0\n1 4").as_bytes()).unwrap();
        assert_eq!(two.apply([2.0; 3]), [1.0, 4.0, 0.0]);
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        for (text, message) in [
            (
                "Version 2\nLength 2\nComponents 1\n{\n0\n1\n}",
                "line 4: Version 2 is not known; only 1 is",
            ),
            (
                "Version 1\nLength 2\n{\n0\n1\n}",
                "line 3: Components is missing before the rows",
            ),
            (
                "Version 1\nLength 3\nComponents 1\n{\n0\n1\n}",
                "line 7: expected 3 rows, found 2: the table is cut short",
            ),
            (
                "Version 1\nLength 2\nComponents 1\n{\n0\n1\n2\n}",
                "line 7: Length says 2 rows, and more follow",
            ),
            (
                "Version 1\nLength 2\nComponents 1\n{\n0\n1",
                "line 6: the file ends before the closing }",
            ),
            (
                "Version 1\nLength 2\nComponents 3\n{\n0 0\n",
                "line 5: a row has 3 numbers, found 2",
            ),
            (
                "Version 1\nGamma 2\n",
                "line 2: \"Gamma\" is not a word of a .spi1d table; known are Version, From, Length, Components",
            ),
            (
                "Version 1\nLength 99999999\nComponents 1\n{\n0\n",
                "line 4: a 1D table of size 99999999 is not supported: sizes run from 2 to 65536",
            ),
        ] {
            assert_eq!(read_curve(text.as_bytes()).unwrap_err().message(), message);
        }
    }
}
