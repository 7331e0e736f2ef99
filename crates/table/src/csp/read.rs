//! The `.csp` reader.

use super::{Csp, CspTable, Prelut};
use crate::lines::{Lines, numbers};
use crate::number::{finite, quoted};
use crate::{Curve1, Grid3};
use lookwright_colour::error::Result;

/// Reads a `.csp` file. Memory: below 4 times `bytes.len()` plus 64 kB.
///
/// # Errors
/// One sentence with the line it concerns.
pub fn read(bytes: &[u8]) -> Result<Csp> {
    let mut lines = Lines::new(bytes);
    let first = lines.expect("CSPLUTV100")?;
    if !first.eq_ignore_ascii_case("CSPLUTV100") {
        return Err(lines.refuse("a .csp table begins with CSPLUTV100"));
    }
    let kind = lines.expect("1D or 3D")?.to_ascii_uppercase();
    if kind != "1D" && kind != "3D" {
        return Err(lines.refuse(format!("expected 1D or 3D, found {}", quoted(&kind))));
    }
    let mut line = lines.expect("the curves")?;
    if line.eq_ignore_ascii_case("BEGIN METADATA") {
        while !lines
            .expect("END METADATA")?
            .eq_ignore_ascii_case("END METADATA")
        {}
        line = lines.expect("the curves")?;
    }
    let red = prelut(&mut lines, &line)?;
    let next = |lines: &mut Lines<'_>| {
        let line = lines.expect("the curves")?;
        prelut(lines, &line)
    };
    let prelut = [red, next(&mut lines)?, next(&mut lines)?];
    let table = match kind.as_str() {
        "1D" => CspTable::Curve(curve(&mut lines)?),
        _ => CspTable::Grid(grid(&mut lines)?),
    };
    Ok(Csp {
        prelut: told(prelut, &lines)?,
        table,
    })
}

/// The curves, if they are more than the identity over 0 ... 1, within which a table holds its input
/// anyway.
fn told(curves: [Option<Prelut>; 3], lines: &Lines<'_>) -> Result<Option<[Prelut; 3]>> {
    if curves.iter().all(Option::is_none) {
        return Ok(None);
    }
    let identity =
        Prelut::new(vec![0.0, 1.0], vec![0.0, 1.0]).map_err(|error| lines.placed(error))?;
    let told = curves.map(|curve| curve.unwrap_or_else(|| identity.clone()));
    Ok(told.iter().any(|curve| *curve != identity).then_some(told))
}

/// One channel's curve, `line` being the number of its points; none of no points.
fn prelut(lines: &mut Lines<'_>, line: &str) -> Result<Option<Prelut>> {
    let count = whole(lines, line, "a curve")?;
    if count == 0 {
        return Ok(None);
    }
    let inputs = points(lines, count)?;
    let values = points(lines, count)?;
    let curve = Prelut::new(inputs, values);
    curve.map(Some).map_err(|error| lines.placed(error))
}

fn points(lines: &mut Lines<'_>, count: usize) -> Result<Vec<f32>> {
    let line = lines.expect("a curve's points")?;
    let points: Result<Vec<f32>> = line.split_whitespace().map(finite).collect();
    let points = points.map_err(|error| lines.placed(error))?;
    match points.len() == count {
        true => Ok(points),
        false => Err(lines.refuse(format!("expected {count} numbers, found {}", points.len()))),
    }
}

fn whole(lines: &Lines<'_>, line: &str, what: &str) -> Result<usize> {
    line.parse().map_err(|_| {
        lines.refuse(format!(
            "{what} begins with how many points it has, found {}",
            quoted(line)
        ))
    })
}

fn curve(lines: &mut Lines<'_>) -> Result<Curve1> {
    let line = lines.expect("the number of rows")?;
    let count = whole(lines, &line, "a 1D table")?;
    let rows = rows(lines, count)?;
    Curve1::from_samples([0.0; 3], [1.0; 3], rows).map_err(|error| lines.placed(error))
}

fn grid(lines: &mut Lines<'_>) -> Result<Grid3> {
    let line = lines.expect("the size")?;
    let [r, g, b] = numbers(&line, "the size").map_err(|error| lines.placed(error))?;
    if r != g || g != b || r < 0.0 || r.fract() != 0.0 {
        return Err(lines.refuse(format!(
            "the size is the same whole number three times, found {}",
            quoted(&line)
        )));
    }
    let size = r as usize;
    Grid3::check_size(size).map_err(|error| lines.placed(error))?;
    let rows = rows(lines, size * size * size)?;
    Grid3::from_nodes(size, [0.0; 3], [1.0; 3], rows).map_err(|error| lines.placed(error))
}

fn rows(lines: &mut Lines<'_>, count: usize) -> Result<Vec<[f32; 3]>> {
    let mut rows = lines.room(count);
    while rows.len() < count {
        let Some(line) = lines.next() else {
            return Err(lines.refuse(format!(
                "expected {count} rows, found {}: the table is cut short",
                rows.len()
            )));
        };
        rows.push(numbers(&line, "a row").map_err(|error| lines.placed(error))?);
    }
    match lines.next() {
        None => Ok(rows),
        Some(_) => Err(lines.refuse(format!(
            "expected {count} rows, found more: the size does not fit the rows"
        ))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Interpolation;

    const CURVES: &str = "2\n0 1\n0 1\n3\n-1 0 1\n0 0.5 1\n0\n";

    #[test]
    fn curves_come_before_the_table() {
        let text =
            format!("csplutv100\n1D\nBEGIN METADATA\nx\nEND METADATA\n{CURVES}2\n0 0 0\n2 2 2\n");
        let csp = read(text.as_bytes()).unwrap();
        let out = csp.apply([0.25, -0.5, 0.75], Interpolation::Tetrahedral);
        assert_eq!(out, [0.5, 0.5, 1.5]);
        assert_eq!(csp.domain(), ([0.0, -1.0, 0.0], [1.0; 3]));
        let plain = "CSPLUTV100\n1D\n2\n0 1\n0 1\n0\n0\n2\n0 0 0\n1 1 1\n";
        assert!(read(plain.as_bytes()).unwrap().prelut.is_none());
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        for (text, message) in [
            (
                "CSPLUTV100\n4D\n".to_owned(),
                "line 2: expected 1D or 3D, found \"4D\"",
            ),
            (
                "CSPLUTV100\n3D\nBEGIN METADATA\n".to_owned(),
                "line 3: the file ends before END METADATA",
            ),
            (
                "CSPLUTV100\n3D\nred\n".to_owned(),
                "line 3: a curve begins with how many points it has, found \"red\"",
            ),
            (
                "CSPLUTV100\n3D\n3\n0 1\n".to_owned(),
                "line 4: expected 3 numbers, found 2",
            ),
            (
                "CSPLUTV100\n3D\n2\n1 0\n0 1\n".to_owned(),
                "line 5: the inputs of a curve have to rise, and 0 comes after 1",
            ),
            (
                format!("CSPLUTV100\n3D\n{CURVES}2 3 2\n"),
                "line 10: the size is the same whole number three times, found \"2 3 2\"",
            ),
            (
                format!("CSPLUTV100\n3D\n{CURVES}2 2 2\n0 0 0\n"),
                "line 11: expected 8 rows, found 1: the table is cut short",
            ),
            (
                format!("CSPLUTV100\n1D\n{CURVES}2\n0 0 0\n1 1 1\n2 2 2\n"),
                "line 13: expected 2 rows, found more: the size does not fit the rows",
            ),
        ] {
            assert_eq!(read(text.as_bytes()).unwrap_err().message(), message);
        }
    }
}
