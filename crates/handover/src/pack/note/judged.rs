//! The note's parts on how good the tables are.

use super::super::Pack;
use super::super::document::Block;
use super::super::findings::Findings;

pub(super) fn differences(findings: &Findings) -> Vec<Block> {
    vec![
        Block::Text(
            "Each table against the look itself, in ordinary colours from 7 stops below mid-grey to 3 \
             above: mean, and what 99 of 100 are below, in dE2000 (1 is about the smallest difference that \
             is seen side by side) and in codes of 10 bits. Tables are fitted for programs that read them by \
             tetrahedra; \"trilinearly\" is what other programs are off by. A scan is judged as it looks on \
             a Rec.709 screen. The halves were also put in a row."
                .to_owned(),
        ),
        Block::Table {
            head: vec![
                "look",
                "stock",
                "table",
                "read",
                "mean dE",
                "99 % dE",
                "mean codes",
                "99 % codes",
            ],
            rows: findings.differences.clone(),
        },
    ]
}

pub(super) fn health(pack: &Pack, rows: &[Vec<String>]) -> Vec<Block> {
    vec![
        Block::Text(format!(
            "Difference between the tables at grid {} and the exact look, in dE2000 (1 is about \
             the smallest difference that is seen side by side): 99 of 100 are below the number \
             given, for ordinary colours from 7 stops below mid-grey to 3 above, for the colours of \
             the frames on the contact sheet, and for any code at all. Tables are fitted to the look as \
             programs read them by tetrahedra; \"trilinear\" is the difference in ordinary colours \
             where a program reads trilinearly. Recommended is the smallest of 17, 33 and 65 that keeps ordinary colours \
             below 1; \"best\" means that none of them does.",
            pack.grid
        )),
        Block::Table {
            head: vec![
                "look",
                "stock",
                "table",
                "ordinary",
                "trilinear",
                "frames",
                "any code",
                "recommended",
                "worst finding",
            ],
            rows: rows.to_vec(),
        },
    ]
}

pub(super) fn reductions(rows: &[Vec<String>], nearest_codes: Option<f32>) -> Vec<Block> {
    let mut blocks = Vec::new();
    if let Some(codes) = nearest_codes {
        let words = if rows.is_empty() {
            "No table here reduces to slope, offset, power and saturation: the nearest correction"
        } else {
            "Some tables reduce to slope, offset, power and saturation, and have a file of these \
             beside them; of the others, the nearest correction"
        };
        blocks.push(Block::Text(format!(
            "{words} is {codes:.0} of 1023 codes off at its worst, so it is not written."
        )));
    }
    if !rows.is_empty() {
        blocks.push(Block::Table {
            head: vec!["look", "stock", "part", "file"],
            rows: rows.to_vec(),
        });
    }
    if blocks.is_empty() {
        blocks.push(Block::Text(
            "Not tried: an ASC CDL is not written for scene light.".to_owned(),
        ));
    }
    blocks
}
