//! Bad tables, as files, and what is said of them.

use std::num::NonZero;
use std::thread::{self, available_parallelism};

use lookwright_colour::encoding::{EncodingId, Range};
use lookwright_table::clf::{self, Lut3d, ProcessList, ProcessNode};
use lookwright_table::health::Setting;
use lookwright_table::{Cube, Grid3, Interpolation, Label, cube};

use super::bases::BASES;
use super::good::outside;
use super::report::{Half, Score};
use super::spoil::mistakes;
use super::verdict;

/// As `.cube`, or as CLF every third time.
fn file(grid: Grid3, turn: usize) -> Vec<u8> {
    let label = Label::default();
    let text = if turn % 3 == 2 {
        let how = Interpolation::Tetrahedral;
        clf::write(
            &ProcessList::of_nodes(vec![ProcessNode::Lut3d(Lut3d { grid, how })]),
            &label,
        )
    } else {
        cube::write(&Cube::of_grid(grid), &label)
    };
    text.unwrap().into_bytes()
}

struct Case {
    name: String,
    half: Half,
    grid: Grid3,
    setting: Setting,
    is_log: bool,
}

/// Bases made by formula, and a few of the tables from outside at their own size.
fn cases() -> Vec<Case> {
    let made = BASES.iter().map(|base| Case {
        name: base.name.to_owned(),
        half: base.half,
        grid: base.grid(),
        setting: base.setting(),
        is_log: base.is_log(),
    });
    let outside = outside().into_iter().filter(|it| {
        it.setting.said
            && ["aces1-", "aces2-", "cdl-", "oklab"]
                .iter()
                .any(|start| it.name.starts_with(start))
    });
    let outside = outside.step_by(3).map(|it| Case {
        is_log: it.name.starts_with("aces"),
        name: it.name,
        half: it.half,
        grid: it.grid,
        setting: it.setting,
    });
    made.chain(outside).collect()
}

pub fn scores() -> Vec<Score> {
    let (cases, mistakes) = (cases(), mistakes());
    let mut jobs = Vec::new();
    for mistake in &mistakes {
        let truth = mistake.truth;
        for case in &cases {
            if truth.starts_with("applied twice") && truth.ends_with("log in") != case.is_log {
                continue;
            }
            for (variant, spoil) in &mistake.variants {
                let turn = jobs.len() + 1;
                jobs.push(move || Score {
                    half: case.half,
                    name: format!("{}, {variant}", case.name),
                    truth,
                    right: mistake.right,
                    tellable: (mistake.tellable)(case.is_log),
                    verdict: verdict(&file(spoil(&case.grid), turn), case.setting),
                });
            }
        }
    }
    let mut scores = at_once(jobs);
    for case in &cases {
        scores.extend(taken_for(case));
        scores.extend(broken(case));
    }
    scores
}

/// What jobs give, in their order, on all cores.
fn at_once<T: Send>(jobs: Vec<impl FnOnce() -> T + Send>) -> Vec<T> {
    let cores = available_parallelism().map_or(1, NonZero::get);
    let share = jobs.len().div_ceil(cores);
    let mut jobs = jobs.into_iter();
    thread::scope(|scope| {
        let shares: Vec<_> = (0..cores)
            .map(|_| {
                let share: Vec<_> = jobs.by_ref().take(share).collect();
                scope.spawn(|| share.into_iter().map(|job| job()).collect::<Vec<_>>())
            })
            .collect();
        shares
            .into_iter()
            .flat_map(|share| share.join().unwrap())
            .collect()
    })
}

/// A table for finished pictures in front of which a log encoding is said to stand.
fn taken_for(case: &Case) -> Vec<Score> {
    if case.is_log {
        return Vec::new();
    }
    let encodings = match case.half {
        Half::Tuning => [EncodingId::LogC3, EncodingId::VLog],
        Half::Held => [EncodingId::SLog3SGamut3Cine, EncodingId::FLog2],
    };
    let scored = encodings.map(|encoding| {
        let setting = Setting {
            source: Some((encoding, Range::Full)),
            ..case.setting
        };
        Score {
            half: case.half,
            name: format!("{} given {}", case.name, encoding.id()),
            truth: "picture's table for a log encoding",
            right: &["log-taken-as-picture"],
            tellable: true,
            verdict: verdict(&file(case.grid.clone(), 0), setting),
        }
    });
    scored.to_vec()
}

/// Files that no table can be read from; the sentence has to say why.
fn broken(case: &Case) -> Vec<Score> {
    let text = String::from_utf8(file(case.grid.clone(), 0)).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let with = |row: &str| {
        let mut lines = lines.clone();
        let middle = lines.len() / 2;
        lines[middle] = row;
        lines.join("\n")
    };
    let cases = [
        ("not a number", with("0.1 nan 0.1"), "not a finite number"),
        ("infinite", with("inf 0.2 0.3"), "not a finite number"),
        (
            "cut short",
            lines[..lines.len() * 2 / 3].join("\n"),
            "the table is cut short",
        ),
        (
            "rows of another size",
            format!("{text}0 0 0\n0 0 0\n"),
            "found more",
        ),
    ];
    let scored = cases.map(|(truth, text, words)| {
        let verdict = verdict(text.as_bytes(), case.setting);
        let right: &[_] = if verdict.sentence.contains(words) {
            &["refused"]
        } else {
            &[]
        };
        Score {
            half: case.half,
            name: case.name.clone(),
            truth,
            right,
            tellable: true,
            verdict,
        }
    });
    scored.to_vec()
}
