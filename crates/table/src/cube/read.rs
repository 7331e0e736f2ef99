//! The `.cube` reader.

use super::Cube;
use crate::curve::{CURVE_SIZE_MAX, CURVE_SIZE_MIN};
use crate::grid::{GRID_SIZE_MAX, GRID_SIZE_MIN, check_domain};
use crate::lines::{ROW_BYTES_MIN, numbers};
use crate::number::{quoted, size_refused};
use crate::{Curve1, Grid3};
use lookwright_colour::error::{Error, Result};

/// Reads a `.cube` file.
///
/// Memory: below 4 times `bytes.len()` plus 64 kB, whatever the header claims, because rows are
/// counted against the bytes that are left before room is made for them.
///
/// # Errors
/// One sentence with the line it concerns.
pub fn read(bytes: &[u8]) -> Result<Cube> {
    let mut header = Header::default();
    let mut rows: Vec<[f32; 3]> = Vec::new();
    let mut last_line = 0;
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut rest = bytes.len();
    for (index, line) in bytes.split(|&byte| byte == b'\n').enumerate() {
        let number = index + 1;
        let at_line = |error: Error| error.at(&format!("line {number}"));
        let text = String::from_utf8_lossy(line);
        let text = text.trim();
        if !text.is_empty() {
            last_line = number;
        }
        if let Some(comment) = text.strip_prefix('#') {
            header.comments.push(comment.trim().to_owned());
        } else if text.starts_with(|c: char| c.is_ascii_alphabetic() || c == '_')
            && !is_word_number(text)
        {
            if !rows.is_empty() {
                return Err(at_line(Error::new(format!(
                    "{} stands after the first row; keywords come before the rows",
                    quoted(first_word(text))
                ))));
            }
            header.keyword(text).map_err(at_line)?;
        } else if !text.is_empty() {
            if rows.is_empty() {
                let expected = header.rows_expected().map_err(at_line)?;
                rows.reserve_exact(expected.min(rest / ROW_BYTES_MIN + 1));
            }
            rows.push(numbers(text, "a row").map_err(at_line)?);
            if rows.len() > header.rows_expected().map_err(at_line)? {
                return Err(at_line(Error::new(format!(
                    "expected {} rows, found more: the size in the header does not fit the rows",
                    rows.len() - 1
                ))));
            }
        }
        rest = rest.saturating_sub(line.len() + 1);
    }
    header
        .finish(rows)
        .map_err(|error| error.at(&format!("line {}", last_line.max(1))))
}

fn first_word(text: &str) -> &str {
    text.split_whitespace().next().unwrap_or_default()
}

/// `nan`, `inf` and their like begin with a letter but are meant as numbers.
fn is_word_number(text: &str) -> bool {
    first_word(text).parse::<f32>().is_ok()
}

#[derive(Default)]
struct Header {
    title: Option<String>,
    comments: Vec<String>,
    size_1d: Option<usize>,
    size_3d: Option<usize>,
    domain_min: Option<[f32; 3]>,
    domain_max: Option<[f32; 3]>,
    range_1d: Option<[f32; 2]>,
    range_3d: Option<[f32; 2]>,
}

impl Header {
    fn keyword(&mut self, text: &str) -> Result<()> {
        let name = first_word(text);
        let rest = text[name.len()..].trim();
        match name {
            "TITLE" => once(
                &mut self.title,
                name,
                rest.trim_matches('"').trim().to_owned(),
            ),
            "LUT_1D_SIZE" => {
                let size = size(rest, name, "1D", CURVE_SIZE_MIN, CURVE_SIZE_MAX)?;
                once(&mut self.size_1d, name, size)
            }
            "LUT_3D_SIZE" => {
                let size = size(rest, name, "3D", GRID_SIZE_MIN, GRID_SIZE_MAX)?;
                once(&mut self.size_3d, name, size)
            }
            "DOMAIN_MIN" => once(&mut self.domain_min, name, numbers(rest, name)?),
            "DOMAIN_MAX" => once(&mut self.domain_max, name, numbers(rest, name)?),
            "LUT_1D_INPUT_RANGE" => once(&mut self.range_1d, name, two(rest, name)?),
            "LUT_3D_INPUT_RANGE" => once(&mut self.range_3d, name, two(rest, name)?),
            _ => Err(Error::new(format!(
                "{} is not a keyword of a .cube table; known are TITLE, LUT_1D_SIZE, LUT_3D_SIZE, \
                 DOMAIN_MIN, DOMAIN_MAX, LUT_1D_INPUT_RANGE, LUT_3D_INPUT_RANGE",
                quoted(name)
            ))),
        }
    }

    fn rows_expected(&self) -> Result<usize> {
        let rows = self.size_1d.unwrap_or(0) + self.size_3d.map_or(0, |n| n * n * n);
        if rows == 0 {
            return Err(Error::new(
                "no LUT_1D_SIZE or LUT_3D_SIZE before the first row: this is not a .cube table",
            ));
        }
        Ok(rows)
    }

    /// Domain of a table: its own range, else DOMAIN_MIN and DOMAIN_MAX, else 0 ... 1.
    fn domain(&self, range: Option<[f32; 2]>) -> Result<([f32; 3], [f32; 3])> {
        if let Some([low, high]) = range {
            if self.domain_min.is_some() || self.domain_max.is_some() {
                return Err(Error::new(
                    "the header gives the domain twice, by DOMAIN_MIN or DOMAIN_MAX and by an \
                     INPUT_RANGE; keep one",
                ));
            }
            return Ok(([low; 3], [high; 3]));
        }
        let min = self.domain_min.unwrap_or([0.0; 3]);
        let max = self.domain_max.unwrap_or([1.0; 3]);
        check_domain(min, max)?;
        Ok((min, max))
    }

    fn finish(self, mut rows: Vec<[f32; 3]>) -> Result<Cube> {
        let expected = match self.rows_expected() {
            Ok(expected) => expected,
            Err(_) => return Err(Error::new("no table in this file: LUT_3D_SIZE is missing")),
        };
        if rows.len() != expected {
            return Err(Error::new(format!(
                "expected {expected} rows, found {}: the table is cut short",
                rows.len()
            )));
        }
        let grid_rows = rows.split_off(self.size_1d.unwrap_or(0));
        let both = self.size_1d.is_some() && self.size_3d.is_some();
        if both && (self.domain_min.is_some() || self.domain_max.is_some()) {
            return Err(Error::new(
                "DOMAIN_MIN and DOMAIN_MAX do not say which of two tables they belong to; give \
                 LUT_1D_INPUT_RANGE and LUT_3D_INPUT_RANGE instead",
            ));
        }
        let curve = match self.size_1d {
            Some(_) => {
                let (min, max) = self.domain(self.range_1d)?;
                Some(Curve1::from_samples(min, max, rows)?)
            }
            None => None,
        };
        let grid = match self.size_3d {
            Some(size) => {
                let (min, max) = self.domain(self.range_3d)?;
                Some(Grid3::from_nodes(size, min, max, grid_rows)?)
            }
            None => None,
        };
        Ok(Cube {
            title: self.title,
            comments: self.comments,
            curve,
            grid,
        })
    }
}

fn once<T>(slot: &mut Option<T>, name: &str, value: T) -> Result<()> {
    if slot.is_some() {
        return Err(Error::new(format!("{name} is given twice")));
    }
    *slot = Some(value);
    Ok(())
}

fn size(rest: &str, name: &str, kind: &str, min: usize, max: usize) -> Result<usize> {
    let size: usize = rest.parse().map_err(|_| {
        Error::new(format!(
            "{name} has one whole number, found {}",
            quoted(rest)
        ))
    })?;
    if (min..=max).contains(&size) {
        Ok(size)
    } else {
        Err(size_refused(kind, size, min, max))
    }
}

fn two(rest: &str, name: &str) -> Result<[f32; 2]> {
    let range: [f32; 2] = numbers(rest, name)?;
    check_domain([range[0]; 3], [range[1]; 3])?;
    Ok(range)
}

#[cfg(test)]
mod tests;
