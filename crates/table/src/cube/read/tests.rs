//! The reader against the written rules and OpenColorIO 2.6.0's own verdicts.

use super::*;
use crate::Interpolation;

const ROWS_2: &str = "0 0 0\n1 0 0\n0 1 0\n1 1 0\n0 0 1\n1 0 1\n0 1 1\n1 1 1\n";

fn ok(text: &str) -> Cube {
    read(text.as_bytes()).unwrap()
}

fn refused(text: &str) -> String {
    read(text.as_bytes()).unwrap_err().message().to_owned()
}

#[test]
fn red_runs_fastest() {
    let cube = ok(&format!("LUT_3D_SIZE 2\n{ROWS_2}"));
    let out = cube.apply([0.2, 0.5, 0.9], Interpolation::Tetrahedral);
    for (got, want) in out.iter().zip([0.2, 0.5, 0.9]) {
        assert!((got - want).abs() < 1e-7);
    }
}

#[test]
fn blanks_tabs_comments_crlf_exponents_and_a_byte_order_mark() {
    let cube = ok(
        "\u{feff}# one\r\n\r\n   \t \r\n\tTITLE  \"a b\"\r\n LUT_1D_SIZE \t 3 \t\r\n\
                   DOMAIN_MIN -1e0 -1. -1.0\r\nDOMAIN_MAX +3 3E0 3\r\n\r\n-1e-1 .5 5.\r\n# two\r\n\
                   \t1 1 1  \r\n2 2 2",
    );
    assert_eq!(cube.title.as_deref(), Some("a b"));
    assert_eq!(cube.comments, ["one", "two"]);
    let curve = cube.curve.unwrap();
    assert_eq!(curve.domain_min(), [-1.0; 3]);
    assert_eq!(curve.domain_max(), [3.0; 3]);
    assert_eq!(curve.samples()[0], [-0.1, 0.5, 5.0]);
}

#[test]
fn a_shaper_before_a_grid() {
    let cube = ok(&format!(
        "LUT_1D_SIZE 3\nLUT_1D_INPUT_RANGE 0 4\nLUT_3D_SIZE 2\nLUT_3D_INPUT_RANGE 0 1\n\
         0 0 0\n.75 .75 .75\n1 1 1\n{ROWS_2}"
    ));
    let out = cube.apply([1.0, 2.0, 3.0], Interpolation::Trilinear);
    assert_eq!(out, [0.375, 0.75, 0.875]);
}

#[test]
fn every_refusal_names_its_line_and_reason() {
    let cut = format!("LUT_3D_SIZE 2\n{}", &ROWS_2[6..]);
    let more = format!("LUT_3D_SIZE 2\n{ROWS_2}1 1 1\n");
    let late = format!("LUT_3D_SIZE 2\n{ROWS_2}DOMAIN_MIN 0 0 0\n");
    for (text, message) in [
        (
            cut.as_str(),
            "line 8: expected 8 rows, found 7: the table is cut short",
        ),
        (
            &more,
            "line 10: expected 8 rows, found more: the size in the header does not fit the rows",
        ),
        (
            &late,
            "line 10: \"DOMAIN_MIN\" stands after the first row; keywords come before the rows",
        ),
        ("", "line 1: no table in this file: LUT_3D_SIZE is missing"),
        (
            "0 0 0\n",
            "line 1: no LUT_1D_SIZE or LUT_3D_SIZE before the first row: this is not a .cube table",
        ),
        (
            "LUT_3D_SIZE 2 2\n",
            "line 1: LUT_3D_SIZE has one whole number, found \"2 2\"",
        ),
        (
            "LUT_3D_SIZE 256\n",
            "line 1: a 3D table of size 256 is not supported: sizes run from 2 to 129",
        ),
        (
            "LUT_3D_SIZE 2\nLUT_3D_SIZE 2\n",
            "line 2: LUT_3D_SIZE is given twice",
        ),
        (
            "DOMAIN_MIN 0 0\n",
            "line 1: DOMAIN_MIN has 3 numbers, found 2",
        ),
        (
            "LUT_1D_INPUT_RANGE 1 0\n",
            "line 1: the domain of red runs from 1 to 0; it has to run upwards between finite \
             numbers",
        ),
        (
            "LUT_1D_SIZE 2\n0 nan 0\n",
            "line 2: \"nan\" is not a finite number",
        ),
        (
            "LUT_1D_SIZE 2\ninf 0 0\n",
            "line 2: \"inf\" is not a finite number",
        ),
        (
            "LUT_1D_SIZE 2\n0,5 0,5 0,5\n",
            "line 2: \"0,5\" is not a number",
        ),
        (
            "LUT_1D_SIZE 2\n0 0 0 0\n",
            "line 2: a row has 3 numbers, found 4",
        ),
        (
            "LUT_1D_SIZE 2\nDOMAIN_MIN 0 0 0\nLUT_1D_INPUT_RANGE 0 1\n0 0 0\n1 1 1\n",
            "line 5: the header gives the domain twice, by DOMAIN_MIN or DOMAIN_MAX and by an \
             INPUT_RANGE; keep one",
        ),
    ] {
        assert_eq!(refused(text), message);
    }
    let both = format!("LUT_1D_SIZE 2\nLUT_3D_SIZE 2\nDOMAIN_MAX 2 2 2\n0 0 0\n1 1 1\n{ROWS_2}");
    assert!(refused(&both).starts_with("line 13: DOMAIN_MIN and DOMAIN_MAX do not say"));
    assert!(refused("LUT_3D_SIZE 2\nWRONG_TAG\n").starts_with("line 2: \"WRONG_TAG\" is not a"));
}

#[test]
fn a_size_in_the_header_makes_no_room_that_the_file_cannot_fill() {
    // 129^3 rows would be 26 MB; the file is 23 bytes long, so the reader must stop at once.
    assert_eq!(
        refused("LUT_3D_SIZE 129\n0 0 0\n"),
        "line 2: expected 2146689 rows, found 1: the table is cut short"
    );
}
