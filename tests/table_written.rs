//! Files that the table writers write, as OpenColorIO reads them.
//!
//! The files stand in `data/tables/written`, what OpenColorIO makes of them in
//! `reference/tables.json` (written by `reference/tables.py`). Here the writers have to give those
//! bytes, and the tables that were written, not read back, have to give OpenColorIO's values.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use std::fs;
use std::path::PathBuf;

use lookwright_colour::Mat3;
use lookwright_table::cdl::{self, Cdl, Clamp, Correction};
use lookwright_table::clf::{
    self, Curvature, Exponent, ExponentStyle, Log, LogParams, LogStyle, Lut1d, Lut3d, Matrix,
    Negative, ProcessList, ProcessNode, Range,
};
use lookwright_table::csp::{self, Csp, CspTable, Prelut};
use lookwright_table::{Cube, Curve1, Grid3, Interpolation, Label, Shaper, Table, cube, spi};
use serde_json::Value;

/// Difference to OpenColorIO, relative to max(1, |value|), for files that hold a table's numbers
/// to seven decimals.
const TOLERANCE: f64 = 1e-5;
const TABLES: &str = "data/tables/written";

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(TABLES)
}

fn label() -> Label {
    Label {
        title: "Night \"ferry\" & <quay>".to_owned(),
        input: "LogC3, full range".to_owned(),
        output: "Rec.709, full range".to_owned(),
        notes: vec!["Grid 5".to_owned(), "No grain in a table.".to_owned()],
        fingerprint: "0123abcd".to_owned(),
    }
}

/// A smooth map of colour with cross-talk, beyond 0 ... 1 at its ends.
fn warped([r, g, b]: [f32; 3]) -> [f32; 3] {
    [
        r * (1.2 - 0.3 * r) + 0.05 * g * b,
        g * g * 0.9 + 0.1 * r - 0.02,
        b * (1.5 - 0.4 * b) - 0.1 * r * g,
    ]
}

fn grid() -> Grid3 {
    Grid3::sample_codes(5, warped).unwrap()
}

fn lut3d(how: Interpolation) -> ProcessNode {
    ProcessNode::Lut3d(Lut3d { grid: grid(), how })
}

fn exponent(curvature: Curvature, negative: Negative, undo: bool, e: f64, o: f64) -> ProcessNode {
    let style = ExponentStyle {
        curvature,
        negative,
        undo,
    };
    ProcessNode::Exponent(Exponent::new(style, [e; 3], [o; 3]).unwrap())
}

/// Every kind of exact node, each in a style of its own.
fn exact_nodes() -> Vec<ProcessNode> {
    let camera = LogParams {
        base: 10.0,
        log_side_slope: 0.255_620_723,
        log_side_offset: 0.410_557_185,
        lin_side_slope: 5.263_157_9,
        lin_side_offset: 0.052_631_58,
        lin_side_break: Some(0.011_25),
        linear_slope: Some(6.621_943_7),
    };
    // OpenColorIO takes one base for all channels.
    let per_channel = [0.1, 0.12, 0.15].map(|lin_side_offset| LogParams {
        lin_side_offset,
        ..LogParams::plain(2.0)
    });
    let matrix = Mat3([[1.2, -0.1, -0.1], [0.05, 0.9, 0.05], [0.0, -0.2, 1.2]]);
    let cdl = Cdl::new(
        [1.1, 1.0, 0.9],
        [-0.03, -0.02, 0.04],
        [1.25, 1.0, 0.8],
        0.85,
    )
    .unwrap();
    let cdl = |clamp, undo| ProcessNode::Cdl { cdl, clamp, undo };
    vec![
        ProcessNode::Matrix(Matrix {
            matrix,
            offset: [0.01, 0.0, -0.02],
        }),
        cdl(Clamp::Off, false),
        cdl(Clamp::Off, true),
        ProcessNode::Log(Log::new(LogStyle::CameraLinToLog, [camera; 3]).unwrap()),
        ProcessNode::Matrix(Matrix {
            matrix: Mat3::diagonal([0.9; 3]),
            offset: [0.0; 3],
        }),
        ProcessNode::Log(Log::new(LogStyle::CameraLogToLin, [camera; 3]).unwrap()),
        exponent(Curvature::MonCurve, Negative::Mirror, true, 2.4, 0.055),
        exponent(Curvature::Basic, Negative::Mirror, false, 1.3, 0.0),
        exponent(Curvature::Basic, Negative::PassThru, true, 1.1, 0.0),
        ProcessNode::Range(Range::line([-1.0, 3.0], [0.0, 1.0], true).unwrap()),
        ProcessNode::Log(Log::new(LogStyle::LinToLog, per_channel).unwrap()),
        ProcessNode::Range(Range::Floor(-2.0)),
        ProcessNode::Range(Range::Ceiling(0.1)),
        cdl(Clamp::On, false),
        cdl(Clamp::On, true),
    ]
}

/// Light over 14 stops into a lattice: exact nodes in front of it, and as a sampled curve.
fn shaped_nodes() -> Vec<ProcessNode> {
    let mut nodes = Shaper::scene().nodes().unwrap().to_vec();
    nodes.push(lut3d(Interpolation::Tetrahedral));
    nodes
}

fn curves() -> Curve1 {
    let samples = (0..33)
        .map(|i| f64::from(i) / 32.0)
        .map(|x| [x * x, 1.0 - x, libm::sqrt(x)].map(|v| v as f32))
        .collect();
    Curve1::from_samples([0.0; 3], [1.0; 3], samples).unwrap()
}

/// A curve from below zero to 9, gentle enough for the 65536 equal steps that OpenColorIO makes of it.
fn bent() -> Prelut {
    let inputs = vec![-0.5, -0.1, 0.0, 0.3, 1.0, 2.5, 9.0];
    let values = vec![0.0, 0.1, 0.15, 0.35, 0.6, 0.8, 1.0];
    Prelut::new(inputs, values).unwrap()
}

fn correction() -> Correction {
    Correction {
        id: "night & day".to_owned(),
        descriptions: vec!["a <test>".to_owned()],
        cdl: Cdl::new([1.1, 1.0, 0.9], [-0.03, -0.02, 0.0], [1.25, 1.0, 0.8], 1.7).unwrap(),
        remarks: Vec::new(),
    }
}

/// Name, bytes, and the table that the bytes are of.
fn written() -> Vec<(&'static str, String, Table)> {
    let list = |name, nodes: Vec<ProcessNode>| {
        let list = ProcessList::of_nodes(nodes);
        let text = clf::write(&list, &label()).unwrap();
        (name, text, Table::Clf(list))
    };
    let wide = Grid3::from_nodes(5, [-0.5; 3], [1.5; 3], grid().nodes().to_vec()).unwrap();
    let cube_of = |name, curve: Option<Curve1>, grid: Option<Grid3>| {
        let cube = Cube {
            title: None,
            comments: Vec::new(),
            curve,
            grid,
        };
        let text = cube::write(&cube, &label()).unwrap();
        (name, text, Table::Cube(cube))
    };
    let csp_of = |name, prelut: Option<Prelut>, table: CspTable| {
        let csp = Csp {
            prelut: prelut.map(|curve| [curve.clone(), curve.clone(), curve]),
            table,
        };
        let text = csp::write(&csp, &label()).unwrap();
        (name, text, Table::Csp(csp))
    };
    let far = Curve1::from_samples([-1.0; 3], [4.0; 3], curves().samples().to_vec()).unwrap();
    let one = vec![correction()];
    vec![
        list("exact.clf", exact_nodes()),
        list("shaped.clf", shaped_nodes()),
        list(
            "lattice-trilinear.clf",
            vec![lut3d(Interpolation::Trilinear)],
        ),
        list(
            "curves.clf",
            vec![ProcessNode::Lut1d(Lut1d::Even(curves()))],
        ),
        cube_of("lattice.cube", None, Some(grid())),
        cube_of("wide.cube", None, Some(wide)),
        cube_of("curves.cube", Some(curves()), None),
        cube_of(
            "shaped.cube",
            Some(Shaper::scene().curve(257).unwrap()),
            Some(grid()),
        ),
        csp_of("shaped.csp", Some(bent()), CspTable::Grid(grid())),
        csp_of("lattice.csp", None, CspTable::Grid(grid())),
        csp_of("curves.csp", Some(bent()), CspTable::Curve(curves())),
        (
            "lattice.spi3d",
            spi::write_grid(&grid(), &label()).unwrap(),
            Table::Spi3d(grid()),
        ),
        (
            "curves.spi1d",
            spi::write_curve(&far, &label()).unwrap(),
            Table::Spi1d(far),
        ),
        ("one.cc", cdl::write_cc(&one[0]), Table::Cdl(one.clone())),
        ("one.cdl", cdl::write_cdl(&one), Table::Cdl(one)),
    ]
}

#[test]
fn opencolorio_reads_what_was_written() {
    let reference: Value = serde_json::from_str(include_str!("reference/tables.json")).unwrap();
    let triple = |t: &Value| [0, 1, 2].map(|c| t[c].as_f64().unwrap());
    let triples = |v: &Value| -> Vec<_> { v.as_array().unwrap().iter().map(triple).collect() };
    let inputs = triples(&reference["inputs"]);
    let mut wrong = Vec::new();
    for (name, _, table) in written() {
        let theirs = triples(&reference["written"][name]);
        assert_eq!(inputs.len(), theirs.len(), "{name}");
        for (input, want) in inputs.iter().zip(theirs) {
            let got = table.apply(input.map(|v| v as f32)).map(f64::from);
            if (0..3).any(|c| (got[c] - want[c]).abs() > TOLERANCE * want[c].abs().max(1.0)) {
                wrong.push(format!(
                    "{name} at {input:?}: {got:?}, OpenColorIO {want:?}"
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_writers_still_write_what_opencolorio_read() {
    for (name, text, _) in written() {
        let kept = fs::read_to_string(folder().join(name)).unwrap();
        assert!(
            kept == text,
            "{name} is written otherwise now; see data/tables/README.md for how to write it again"
        );
    }
    let kept = fs::read_dir(folder()).unwrap().count();
    assert_eq!(kept, written().len());
}

#[test]
#[ignore = "writes data/tables/written again; see data/tables/README.md"]
fn write_again() {
    for (name, text, _) in written() {
        fs::write(folder().join(name), text).unwrap();
    }
}
