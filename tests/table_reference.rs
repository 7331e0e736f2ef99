//! Table files of OpenColorIO's own test suite: the legal ones give what OpenColorIO gives, the
//! illegal ones are refused with line and reason.
//!
//! The files and what differs between the two readers are described in `data/tables/README.md`;
//! the values in `reference/tables.json` are written by `reference/tables.py`.

#![expect(
    clippy::unwrap_used,
    reason = "a test file: what is missing must stop the test"
)]

use std::fs;
use std::path::PathBuf;

use lookwright_table::{Table, read_table};
use serde_json::Value;

/// Difference to OpenColorIO, relative to max(1, |value|): both work in 32-bit float, with their
/// own powers and logarithms, over up to nine nodes in a row.
const TOLERANCE: f64 = 1e-5;

fn folder(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("data/tables/ocio")
        .join(name)
}

fn files(name: &str) -> Vec<(String, Vec<u8>)> {
    let mut files: Vec<_> = fs::read_dir(folder(name))
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read(path).unwrap())
        })
        .collect();
    files.sort();
    files
}

fn triples(value: &Value) -> Vec<[f64; 3]> {
    let triple = |t: &Value| [0, 1, 2].map(|c| t[c].as_f64().unwrap());
    value.as_array().unwrap().iter().map(triple).collect()
}

#[test]
fn legal_files_give_what_opencolorio_gives() {
    let reference: Value = serde_json::from_str(include_str!("reference/tables.json")).unwrap();
    let inputs = triples(&reference["inputs"]);
    let legal = files("legal");
    assert_eq!(legal.len(), reference["files"].as_object().unwrap().len());
    let mut wrong = Vec::new();
    for (name, bytes) in legal {
        let table = match read_table(&bytes, &name) {
            Ok(table) => table,
            Err(error) => {
                wrong.push(format!("{name}: {error}"));
                continue;
            }
        };
        for (input, want) in inputs.iter().zip(triples(&reference["files"][&name])) {
            let got = table.apply(input.map(|v| v as f32)).map(f64::from);
            let far = |c: usize| (got[c] - want[c]).abs() > TOLERANCE * want[c].abs().max(1.0);
            if (0..3).any(|c| far(c) || !got[c].is_finite()) {
                wrong.push(format!(
                    "{name} at {input:?}: {got:?}, OpenColorIO {want:?}"
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn illegal_files_are_refused_with_line_and_reason() {
    let illegal = files("illegal");
    assert!(illegal.len() > 35);
    for (name, bytes) in illegal {
        let message = match read_table(&bytes, &name) {
            Ok(_) => panic!("{name} was taken"),
            Err(error) => error.message().to_owned(),
        };
        println!("{name}: {message}");
        let reason = message.strip_prefix("line ").unwrap();
        let (line, reason) = reason.split_once(": ").unwrap();
        let lines = bytes.split(|&b| b == b'\n').count();
        assert!((1..=lines).contains(&line.parse().unwrap()), "{name}");
        assert!(reason.len() > 10 && !reason.contains('\n'), "{name}");
    }
}

/// Verdicts that OpenColorIO's tests give a reason for, and where the fault stands in the file.
#[test]
fn reasons_say_what_is_wrong() {
    for (name, message) in [
        (
            "lut3d_unequal_size.clf",
            "line 5: Array: dim \"2 2 3 3\" is not \"N N N 3\" with the same N three times",
        ),
        (
            "array_missing_values.clf",
            "line 5: Array: expected 9 numbers, found 3",
        ),
        (
            "transform_bitdepth_mismatch.clf",
            "line 10: LUT1D: inBitDepth 32f does not match outBitDepth 16f of the node before",
        ),
        (
            "range_bad_values.clf",
            "line 4: Range: maxInValue 240 has to be above minInValue 240",
        ),
        (
            "cdl_bad_power.clf",
            "line 4: ASC_CDL: power 0 is not allowed; it has to be above 0",
        ),
        (
            "exponent_bad_param.clf",
            "line 5: ExponentParams: offset is only for the monCurve styles",
        ),
        (
            "log_missing_breakpnt.clf",
            "line 4: Log: the camera styles need linSideBreak",
        ),
        (
            "process_list_higher_ns_version.clf",
            "line 2: ProcessList: the namespace \"http://www.smpte-ra.org/ns/2136-1/2025\" is newer \
             than what is known here, http://www.smpte-ra.org/ns/2136-1/2024",
        ),
    ] {
        let bytes = fs::read(folder("illegal").join(name)).unwrap();
        assert_eq!(read_table(&bytes, name).unwrap_err().message(), message);
    }
}

#[test]
fn what_the_reader_passes_over_is_told() {
    let bytes = fs::read(folder("legal").join("unknown_elements.clf")).unwrap();
    let table = read_table(&bytes, "").unwrap();
    assert_eq!(
        table.remarks(),
        ["line 34: B: is not known and is passed over"]
    );
    assert!(matches!(table, Table::Clf(_)));
}
