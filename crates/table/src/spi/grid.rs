//! `.spi3d`.

use core::fmt::Write;

use crate::lines::{Lines, numbers};
use crate::number::quoted;
use crate::{Grid3, Label};
use lookwright_colour::error::{Error, Result};

/// Least length of a line of the table: "0 0 0 0 0 0".
const LINE_BYTES_MIN: usize = 12;

/// Reads a `.spi3d` table, whatever the order of its lines. Memory: below 4 times `bytes.len()` plus
/// 64 kB.
///
/// # Errors
/// One sentence with the line it concerns.
pub fn read_grid(bytes: &[u8]) -> Result<Grid3> {
    let mut lines = Lines::new(bytes);
    let first = lines.expect("SPILUT")?;
    if !starts_with_word(&first, "SPILUT") {
        return Err(lines.refuse("a .spi3d table begins with SPILUT"));
    }
    let channels = lines.expect("the line \"3 3\"")?;
    if channels.split_whitespace().ne(["3", "3"]) {
        return Err(lines.refuse(format!(
            "expected \"3 3\", three channels in and out, found {}",
            quoted(&channels)
        )));
    }
    let size = size(&mut lines)?;
    let expected = size * size * size;
    if expected > bytes.len() / LINE_BYTES_MIN + 1 {
        return Err(lines.refuse(format!(
            "a table of size {size} has {expected} rows, more than the file has room for: it is \
             cut short"
        )));
    }
    let mut nodes: Vec<Option<[f32; 3]>> = vec![None; expected];
    let mut count = 0;
    while count < expected {
        let Some(line) = lines.next() else {
            return Err(lines.refuse(format!(
                "expected {expected} rows, found {count}: the table is cut short"
            )));
        };
        // Words stand where the format has no place for them.
        if line.starts_with('#') {
            continue;
        }
        let (place, value) = row(&line, size).map_err(|error| lines.placed(error))?;
        if nodes[place].replace(value).is_some() {
            return Err(lines.refuse("this place has a value already"));
        }
        count += 1;
    }
    let nodes = nodes.into_iter().flatten().collect();
    Grid3::from_nodes(size, [0.0; 3], [1.0; 3], nodes).map_err(|error| lines.placed(error))
}

fn starts_with_word(line: &str, word: &str) -> bool {
    line.get(..word.len())
        .is_some_and(|start| start.eq_ignore_ascii_case(word))
}

fn size(lines: &mut Lines<'_>) -> Result<usize> {
    let line = lines.expect("the size")?;
    let sizes: Vec<usize> = line
        .split_whitespace()
        .map_while(|word| word.parse().ok())
        .collect();
    let [r, g, b] = sizes[..] else {
        return Err(lines.refuse(format!(
            "the size has three whole numbers, found {}",
            quoted(&line)
        )));
    };
    if r != g || g != b {
        return Err(lines.refuse(format!(
            "the sizes {r}, {g} and {b} differ; only tables with one size are read"
        )));
    }
    Grid3::check_size(r).map_err(|error| lines.placed(error))?;
    Ok(r)
}

/// A row's place among the nodes, red fastest, and its value.
fn row(line: &str, size: usize) -> Result<(usize, [f32; 3])> {
    let mut words = line.split_whitespace();
    let mut place = 0;
    for stride in [1, size, size * size] {
        let word = words.next().unwrap_or_default();
        match word.parse::<usize>() {
            Ok(index) if index < size => place += index * stride,
            _ => {
                return Err(Error::new(format!(
                    "a row begins with three places from 0 to {}, found {}",
                    size - 1,
                    quoted(word)
                )));
            }
        }
    }
    let rest: Vec<&str> = words.take(4).collect();
    numbers(&rest.join(" "), "a row's value").map(|value| (place, value))
}

/// The text of a `.spi3d` file: seven decimals, blue fastest.
///
/// # Errors
/// If the domain is not 0 ... 1, which the format cannot say.
pub fn write_grid(grid: &Grid3, label: &Label) -> Result<String> {
    if grid.domain_min() != [0.0; 3] || grid.domain_max() != [1.0; 3] {
        return Err(Error::new(
            "a .spi3d file has the domain 0 to 1; write .csp or .cube instead",
        ));
    }
    let size = grid.size();
    let mut text = String::with_capacity(grid.nodes().len() * 40 + 1024);
    text.push_str(&format!("SPILUT 1.0\n3 3\n{size} {size} {size}\n"));
    for r in 0..size {
        for g in 0..size {
            for b in 0..size {
                // Writing to a string cannot fail.
                let _ = write!(text, "{r} {g} {b} ");
                crate::number::write_rows(&mut text, &[grid.node([r, g, b])]);
            }
        }
    }
    label.write_lines(&mut text, "# ");
    Ok(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_comes_back() {
        let grid = Grid3::sample_codes(4, |[r, g, b]| [r * 0.5, g - b, b * b]).unwrap();
        let text = write_grid(&grid, &Label::default()).unwrap();
        assert!(text.starts_with("SPILUT 1.0\n3 3\n4 4 4\n0 0 0 0.0000000"));
        assert!(text.contains("\n0 0 1 0.0000000 -0.3333333 0.1111111\n"));
        let back = read_grid(text.as_bytes()).unwrap();
        for (a, b) in grid.nodes().iter().zip(back.nodes()) {
            assert!((0..3).all(|c| (a[c] - b[c]).abs() < 6e-8));
        }
        let wide = Grid3::sample(2, [-1.0; 3], [1.0; 3], |rgb| rgb).unwrap();
        assert!(write_grid(&wide, &Label::default()).is_err());
    }

    #[test]
    fn places_decide_whatever_the_order() {
        let mut rows: Vec<String> = Vec::new();
        for place in [7, 3, 5, 1, 6, 2, 4, 0] {
            let (r, g, b) = (place & 1, place >> 1 & 1, place >> 2);
            rows.push(format!("{r} {g} {b} {r} {g} {b}"));
        }
        let text = format!("SPILUT 1.0\n3 3\n2 2 2\n{}\n", rows.join("\n"));
        let grid = read_grid(text.as_bytes()).unwrap();
        assert_eq!(grid.node([1, 0, 1]), [1.0, 0.0, 1.0]);
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        let head = "SPILUT 1.0\n3 3\n2 2 2\n0 0 0 0 0 0\n";
        let rest = "1 0 0 0 0 0\n".repeat(7);
        for (text, message) in [
            (
                "SPILUT 1.0\n3 1\n".to_owned(),
                "line 2: expected \"3 3\", three channels in and out, found \"3 1\"",
            ),
            (
                "SPILUT 1.0\n3 3\n2 3 2\n".to_owned(),
                "line 3: the sizes 2, 3 and 2 differ; only tables with one size are read",
            ),
            (
                "SPILUT 1.0\n3 3\n129 129 129\n0 0 0 0 0 0".to_owned(),
                "line 3: a table of size 129 has 2146689 rows, more than the file has room for: it is cut short",
            ),
            (
                format!("{head}{rest}"),
                "line 6: this place has a value already",
            ),
            (
                format!("{head}0 0 2 0 0 0\n{rest}"),
                "line 5: a row begins with three places from 0 to 1, found \"2\"",
            ),
            (
                format!("{head}0 0 1 0 0\n{rest}"),
                "line 5: a row's value has 3 numbers, found 2",
            ),
            (
                format!("{head}{}", "# aaaaaaaaaaaa\n".repeat(7)),
                "line 11: expected 8 rows, found 1: the table is cut short",
            ),
        ] {
            assert_eq!(read_grid(text.as_bytes()).unwrap_err().message(), message);
        }
    }
}
