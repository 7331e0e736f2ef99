//! The `.csp` writer.

use super::{Csp, CspTable, Prelut};
use crate::Label;
use crate::number::write_rows;
use lookwright_colour::error::{Error, Result};

/// The text of a `.csp` file: seven decimals; the points of curves as exact as they are.
///
/// # Errors
/// If the table's domain is not 0 ... 1, which the format cannot say.
pub fn write(csp: &Csp, label: &Label) -> Result<String> {
    let (kind, domain, size, rows) = match &csp.table {
        CspTable::Curve(curve) => (
            "1D",
            [curve.domain_min(), curve.domain_max()],
            curve.samples().len().to_string(),
            curve.samples(),
        ),
        CspTable::Grid(grid) => (
            "3D",
            [grid.domain_min(), grid.domain_max()],
            [grid.size().to_string().as_str(); 3].join(" "),
            grid.nodes(),
        ),
    };
    if domain != [[0.0; 3], [1.0; 3]] {
        return Err(Error::new(
            "the table of a .csp file has the domain 0 to 1; put curves before it instead",
        ));
    }
    let mut text = String::with_capacity(rows.len() * 30 + 1024);
    text.push_str(&format!("CSPLUTV100\n{kind}\n\nBEGIN METADATA\n"));
    // Marked, so that no words can end the block.
    label.write_lines(&mut text, "# ");
    text.push_str("END METADATA\n\n");
    for channel in 0..3 {
        match &csp.prelut {
            Some(prelut) => write_prelut(&mut text, &prelut[channel]),
            None => text.push_str("2\n0 1\n0 1\n"),
        }
    }
    text.push_str(&format!("\n{size}\n"));
    write_rows(&mut text, rows);
    Ok(text)
}

fn write_prelut(text: &mut String, prelut: &Prelut) {
    text.push_str(&format!("{}\n", prelut.inputs().len()));
    for numbers in [prelut.inputs(), prelut.values()] {
        let words: Vec<String> = numbers.iter().map(f32::to_string).collect();
        text.push_str(&words.join(" "));
        text.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::csp::read;
    use crate::{Curve1, Grid3};

    #[test]
    fn what_is_written_comes_back() {
        let label = Label {
            title: "Night\nEND METADATA".to_owned(),
            notes: vec!["END METADATA".to_owned()],
            ..Label::default()
        };
        let grid = Grid3::sample_codes(3, |[r, g, b]| [r * 0.5, g - b, b * b]).unwrap();
        let curve = Curve1::sample(5, 0.0, 1.0, |x| x * x).unwrap();
        let prelut = Prelut::new(vec![-1.25, 0.1, 64.0], vec![0.0, 0.3, 1.0]).unwrap();
        for prelut in [None, Some([prelut.clone(), prelut.clone(), prelut])] {
            for table in [CspTable::Grid(grid.clone()), CspTable::Curve(curve.clone())] {
                let csp = Csp {
                    prelut: prelut.clone(),
                    table,
                };
                let back = read(write(&csp, &label).unwrap().as_bytes()).unwrap();
                assert_eq!(back.prelut, csp.prelut);
                let rows = |csp: &Csp| match &csp.table {
                    CspTable::Curve(curve) => curve.samples().to_vec(),
                    CspTable::Grid(grid) => grid.nodes().to_vec(),
                };
                for (a, b) in rows(&csp).iter().zip(rows(&back)) {
                    assert!((0..3).all(|c| (a[c] - b[c]).abs() < 6e-8));
                }
            }
        }
    }
}
