//! Damaged table files: never a panic, never more memory than stated, always a place and a reason.
//!
//! Each seed file in `data/tables/seeds` is damaged in many ways by a fixed generator, so the same
//! files are tried every time. What once failed is kept as a seed of its own.

use std::fs;
use std::path::Path;

use lookwright_table::read_table;
use peak_alloc::PeakAlloc;

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Damaged files per seed.
const PER_SEED: usize = 250;

/// The readers' stated bound, and a tighter one for short files: a tag of one byte costs a node of
/// an XML tree, whatever else a file claims costs nothing.
fn memory_bound(length: usize) -> usize {
    (6 * length + (40 << 20)).min(128 * length) + (64 << 10)
}

/// Numerical Recipes' 64-bit linear congruential generator.
struct Random(u64);

impl Random {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % end.max(1)
    }
}

/// What a number in a file may turn into.
const NUMBERS: [&str; 14] = [
    "nan",
    "inf",
    "-1e39",
    "1e-46",
    "0",
    "-1",
    "129",
    "65536",
    "99999999999999999999",
    "0x10",
    "0,5",
    "1e",
    "--3",
    "\u{ff11}",
];

/// What may be thrown into a file.
const DEBRIS: [&[u8]; 12] = [
    b"\0",
    b"\xff\xfe",
    b"<",
    b"</",
    b"&x;",
    b"<!DOCTYPE a [<!ENTITY b \"c\">]>",
    b"<![CDATA[ 1 2 3 ]]>",
    b"\n\n\n",
    b"\r",
    b"LUT_3D_SIZE 129\n",
    b" dim=\"65536 3\"",
    b"<Array dim=\"129 129 129 3\">",
];

fn damaged(seed: &[u8], random: &mut Random) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for _ in 0..=random.below(3) {
        let length = bytes.len();
        let at = random.below(length);
        let span = at..(at + 1 + random.below(40)).min(length);
        match random.below(8) {
            0 => bytes.truncate(at),
            1 => {
                bytes.drain(span);
            }
            2 => {
                let piece = bytes[span].to_vec();
                let to = random.below(length);
                bytes.splice(to..to, piece.repeat(1 + random.below(50)));
            }
            3 if length > 0 => bytes[at] ^= 1 << random.below(8),
            4 => {
                let piece = DEBRIS[random.below(DEBRIS.len())];
                bytes.splice(at..at, piece.iter().copied());
            }
            5 => lose_a_line(&mut bytes, at),
            _ => change_a_number(&mut bytes, at, NUMBERS[random.below(NUMBERS.len())]),
        }
    }
    bytes
}

fn lose_a_line(bytes: &mut Vec<u8>, at: usize) {
    let start = bytes[..at].iter().rposition(|&b| b == b'\n').unwrap_or(0);
    let end = bytes[at..].iter().position(|&b| b == b'\n');
    bytes.drain(start..end.map_or(bytes.len(), |e| at + e));
}

fn change_a_number(bytes: &mut Vec<u8>, at: usize, number: &str) {
    let is_part = |b: &u8| b.is_ascii_digit() || b".+-e".contains(b);
    let Some(start) = bytes[at..].iter().position(u8::is_ascii_digit) else {
        return;
    };
    let start = at + start;
    let length = bytes[start..].iter().take_while(|b| is_part(b)).count();
    bytes.splice(start..start + length, number.bytes());
}

/// `line N: reason` or `byte N: reason`, with N inside the file.
fn names_place_and_reason(message: &str, bytes: &[u8]) -> bool {
    let Some((place, reason)) = message.split_once(": ") else {
        return false;
    };
    let lines = bytes.split(|&b| b == b'\n').count();
    let inside = match place.split_once(' ') {
        Some(("line", n)) => n.parse().is_ok_and(|n: usize| (1..=lines).contains(&n)),
        Some(("byte", n)) => n.parse().is_ok_and(|n: usize| n <= bytes.len()),
        _ => false,
    };
    inside && reason.len() > 8 && message.len() < 400 && !message.contains('\n')
}

#[test]
fn damaged_files_are_read_or_refused_with_a_reason() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/tables/seeds");
    let mut seeds: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    seeds.sort();
    assert!(seeds.len() >= 12);
    let (mut read, mut refused, mut most) = (0, 0, 0);
    for (index, path) in seeds.iter().enumerate() {
        let seed = fs::read(path).unwrap();
        let name = path.file_name().unwrap().to_string_lossy();
        assert!(read_table(&seed, &name).is_ok(), "{name}");
        let mut random = Random(index as u64 + 1);
        for round in 0..PER_SEED {
            let bytes = damaged(&seed, &mut random);
            let before = MEMORY.current_usage();
            MEMORY.reset_peak_usage();
            let result = read_table(&bytes, &name);
            let used = MEMORY.peak_usage().saturating_sub(before);
            most = most.max(used);
            let shown = || format!("{name} {round}: {}", String::from_utf8_lossy(&bytes));
            assert!(used <= memory_bound(bytes.len()), "{used}: {}", shown());
            match result {
                Ok(table) => {
                    read += 1;
                    for input in [[0.0; 3], [0.2, 0.5, 0.9], [-9.0, f32::NAN, f32::INFINITY]] {
                        // Whatever comes out: asking must not panic.
                        let _ = table.apply(input);
                    }
                }
                Err(error) => {
                    refused += 1;
                    let message = error.message();
                    assert!(
                        names_place_and_reason(message, &bytes),
                        "{message}\n{}",
                        shown()
                    );
                }
            }
        }
    }
    println!("{read} damaged files read, {refused} refused, at most {most} bytes");
    // Both kinds have to occur, or the damage is too weak or too strong to show anything.
    assert!(read > 100 && refused > 1000);
    assert!(most > 1000, "memory was not measured");
}
