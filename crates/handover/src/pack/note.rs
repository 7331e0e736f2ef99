//! The pack's note: what an editor has to know, and nothing that they have to ask.

mod judged;

use lookwright_colour::Result;
use lookwright_colour::encoding::ScreenId;
use lookwright_film::look::{Delivery, Frame, Options, StageId, effective_amount};
use lookwright_film::path::Plan;
use lookwright_film::spatial::Window;

use judged::{differences, health, reductions};

use super::archive::Sum;
use super::document::{Block, Document};
use super::findings::Findings;
use super::{Pack, PackLook, config, inputs};
use crate::baked::screen_words;
use crate::{SAME_CODES, Split, has_same_codes};

/// The frame that crops are spoken of in.
const CROPPED: (usize, usize) = (3840, 2160);

/// The page, without the check-sums of the notes themselves.
pub(super) fn document(
    pack: &Pack,
    looks: &[PackLook],
    findings: &Findings,
    sums: &[Sum],
) -> Result<Document> {
    let names: Vec<_> = looks.iter().map(|look| look.name().to_owned()).collect();
    let mut parts = vec![("This pack", about(pack, looks))];
    if !findings.sheets.is_empty() {
        let words = "Before and after, with the texture that tables leave out, as sRGB.";
        let sheet = vec![
            Block::Text(words.to_owned()),
            Block::Pictures(findings.sheets.clone()),
        ];
        parts.push(("Contact sheet", sheet));
    }
    if let Some(words) = config::told(pack) {
        parts.push(("OpenColorIO", vec![Block::Text(words)]));
    }
    parts.extend([
        ("Which table?", inputs::blocks(pack)?),
        ("What comes out", outputs(pack, looks, findings)),
        (
            "Order of operations",
            order(pack, !findings.plates.is_empty()),
        ),
        ("Prove your set-up", proof(pack, looks, findings)?),
        (
            "What the tables do not contain",
            missing(looks, &findings.plates),
        ),
        ("How far the tables are off", differences(findings)),
        ("Health", health(pack, &findings.health)),
        (
            "ASC CDL",
            reductions(&findings.reductions, findings.nearest_codes),
        ),
    ]);
    if !findings.health_pictures.is_empty() {
        let words = "The grey axis of each table and its tint, slices, the lattice, and all \
                     findings of the health check.";
        let pictures = vec![
            Block::Text(words.to_owned()),
            Block::Pictures(findings.health_pictures.clone()),
        ];
        parts.push(("Pictures of the tables", pictures));
    }
    let rows = sums
        .iter()
        .map(|sum| vec![sum.sha256.clone(), sum.path.clone()]);
    let words = "To check them all, run sha256sum --check SHA256SUMS in this folder. The same looks, \
                 options, frames and version of Lookwright give the same bytes again, this note and \
                 the zip included: no clock is read, entries of the zip bear the format's first day, \
                 and a date is stated only if one was given.";
    parts.push((
        "Files and check-sums",
        vec![
            Block::Text(words.to_owned()),
            Block::Table {
                head: vec!["SHA-256", "file"],
                rows: rows.collect(),
            },
        ],
    ));
    Ok(Document {
        title: format!("Hand-over pack: {}", names.join(", ")),
        parts,
    })
}

fn about(pack: &Pack, looks: &[PackLook]) -> Vec<Block> {
    let mut words = format!("Made with Lookwright {}", env!("CARGO_PKG_VERSION"));
    if let Some(date) = &pack.date {
        words.push_str(&format!(" on {date}"));
    }
    words.push('.');
    if pack.date.is_none() {
        words.push_str(" No date was stated.");
    }
    match &pack.licence {
        Some(licence) => words.push_str(&format!(" Licence: {licence}.")),
        None => words.push_str(" No licence was stated; ask whoever sent you this pack."),
    }
    let hurry = [
        "Look up the clip's encoding, and what your program does to its codes, under \"Which table?\".",
        "Take its table from the folder of the stock: .clf if your program reads it, else .cube.",
        "Prove your set-up with the test chart of that encoding.",
        "Lay plates or render with Lookwright for what tables leave out.",
    ];
    let mut blocks = vec![
        Block::Text(words),
        Block::Steps(hurry.map(str::to_owned).to_vec()),
    ];
    blocks.push(Block::Table {
        head: vec!["look", "stock", "folder", "fingerprint"],
        rows: looks
            .iter()
            .map(|entry| {
                vec![
                    entry.name().to_owned(),
                    entry.stock_label(),
                    entry.folder(),
                    entry.look.fingerprint(),
                ]
            })
            .collect(),
    });
    blocks.push(Block::Text(
        "A folder holds the tables of one film stock. File names say look, stock, what goes in \
         with its range, what comes out with its range, and the grid. The look files (.json) open \
         in Lookwright. A fingerprint is the SHA-256 of a look: it stands in every table made of \
         it, so that table and look can be told to belong together."
            .to_owned(),
    ));
    blocks
}

fn outputs(pack: &Pack, looks: &[PackLook], findings: &Findings) -> Vec<Block> {
    let screens: Vec<_> = pack
        .out_ranges
        .iter()
        .map(|range| screen_words(&pack.delivery(*range)))
        .collect();
    let mut blocks = vec![Block::Text(format!(
        "A finished picture: {}. Set the timeline and the monitor to it and put no further \
         conversion after the table.",
        screens.join("; ")
    ))];
    if !pack.scene.is_empty() {
        blocks.push(Block::Text(
            "Tables to scene code give light again, for a pipeline whose own rendering for the display \
             follows: see \"Which table?\"."
                .to_owned(),
        ));
    }
    if pack.splits.iter().any(|split| *split != Split::Whole) {
        blocks.push(Block::Text(
            "Tables to film-scan give the finished scan instead, as 10-bit log code over full \
             scale, flat and soft; tables from film-scan print it. One after the other they are \
             the whole."
                .to_owned(),
        ));
    }
    let is_alike = [ScreenId::Rec709, ScreenId::Srgb].contains(&pack.screen);
    if is_alike && looks.iter().all(|entry| has_same_codes(&entry.look)) {
        blocks.push(Block::Text(SAME_CODES.to_owned()));
    }
    let equal = findings.equal_words();
    if !equal.is_empty() {
        blocks.push(Block::Text(format!(
            "Some tables here hold the same numbers, so either will do: {}.",
            equal.join("; ")
        )));
    }
    blocks
}

fn order(pack: &Pack, plates: bool) -> Vec<Block> {
    let mut steps = vec![
        "The clip as recorded, in its own encoding and range.".to_owned(),
        "Exposure and white balance of the shot, before the table.".to_owned(),
    ];
    let has = |split| pack.splits.contains(&split);
    if has(Split::CameraToScan) && has(Split::ScanToScreen) {
        let either = match has(Split::Whole) {
            true => "Either the whole table; or the",
            false => "The",
        };
        let plates = if plates { " and the plates" } else { "" };
        steps.push(format!(
            "{either} table to film-scan, then your grade{plates}, then the table from film-scan."
        ));
    } else {
        steps.push(
            "The table, with tetrahedral interpolation if your program lets you choose.".to_owned(),
        );
        if plates {
            steps.push("The plates, laid as said below.".to_owned());
        }
    }
    steps.push("Titles and graphics, which the table must not touch.".to_owned());
    let mut blocks = vec![Block::Steps(steps)];
    let formats = pack.formats.iter();
    blocks.push(Block::Table {
        head: vec!["ending", "what there is to know of the format"],
        rows: formats
            .map(|format| vec![format!(".{}", format.id()), format.about().to_owned()])
            .collect(),
    });
    blocks
}

fn proof(pack: &Pack, looks: &[PackLook], findings: &Findings) -> Result<Vec<Block>> {
    let mut blocks = vec![
        Block::Text(
            "In test-charts there is a folder for each encoding and range with a test chart and, \
             for each look, the picture that has to come of it. Put the chart through the table \
             and lay the expected picture over it as a difference: it has to be black but for what the table \
             itself is off, which the last column gives in codes of 10 bits for the worst patch. \
             Anything beyond that and 1 code of rounding is the set-up, most often a range or a \
             conversion that was not switched off."
                .to_owned(),
        ),
        Block::Table {
            head: vec![
                "look",
                "stock",
                "input",
                "output",
                "mid-grey in",
                "mid-grey out (R G B)",
                "codes off",
            ],
            rows: findings.charts.clone(),
        },
        Block::Text(
            "The greys of each chart in the codes that go in, of 1023 (light as it is): patches A1 to A12, \
             6 stops under mid-grey to 5 over; A7 is mid-grey. Beside them, how many codes one stop is at \
             mid-grey. chart.txt and chart.json beside each chart have all patches by name, with the codes \
             that go in and that have to come out."
                .to_owned(),
        ),
        Block::Table {
            head: vec![
                "input", "one stop", "-6", "-5", "-4", "-3", "-2", "-1", "A7: 0", "+1", "+2", "+3", "+4",
                "+5",
            ],
            rows: findings.greys.clone(),
        },
    ];
    if let Some(first) = looks.first() {
        blocks.extend(inputs::wrong(pack, first)?);
    }
    Ok(blocks)
}

fn missing(looks: &[PackLook], laid: &[Vec<String>]) -> Vec<Block> {
    let mut rows = Vec::new();
    for entry in looks {
        let mut acting = Vec::new();
        entry.look.clone().for_each_step(|step| {
            if step.spec().texture && effective_amount(step) > 0.0 {
                acting.push(step.spec().label.to_lowercase());
            }
        });
        let words = if acting.is_empty() {
            "nothing is left out".to_owned()
        } else {
            acting.join(", ")
        };
        let plan = Plan::of(
            &entry.look,
            &Frame::default(),
            &Delivery::default(),
            StageId::Screen,
        );
        let (width, height) = CROPPED;
        let spreads = plan.reach_px(&Window::whole(width, height)).ceil();
        rows.push(vec![
            entry.name().to_owned(),
            entry.stock_label(),
            words,
            format!("{spreads} px"),
        ]);
    }
    let (width, height) = CROPPED;
    let mut blocks = vec![
        Block::Text(format!(
            "A table maps one colour to one colour. What spreads light or lies on the film is not \
             in it. How far light spreads, but for about 1 % of it, is given for a frame of \
             {width} x {height}: leave that much around a crop that Lookwright is to render."
        )),
        Block::Table {
            head: vec!["look", "stock", "left out", "light spreads over"],
            rows,
        },
    ];
    if laid.is_empty() {
        blocks.push(Block::Text(
            "This pack holds no plates. To have these steps in the picture, render the frames from \
             the look file with Lookwright."
                .to_owned(),
        ));
    } else {
        blocks.push(Block::Text(
            "Plates put some of it back, each where it says and as its formula says, channel by channel, \
             in code held to 0 ... 1. They are PNG pictures of 16 bits around 0.5; switch conversions of \
             colour and levels off for them, too, and do not reduce them to 8 bits. Scale grain and dust \
             to the width of the picture. A print hides most of the grain in blacks and whites: how much \
             of a plate shows at each code is its gain, a 1D table (_gain.cube) that makes of the \
             picture's own code a factor from 0 to 1. The text beside it (_blend.txt) has the steps layer \
             by layer, the gain as an expression that can be typed, and as numbers. A plate without its \
             gain is far too strong in blacks."
                .to_owned(),
        ));
        blocks.push(Block::Table {
            head: vec!["plates", "what they are", "lie on", "laid so"],
            rows: laid.to_vec(),
        });
        blocks.push(Block::Text(
            "Plates replace what they are named after and nothing else, halation only in the frames \
             that it was made from: the rest depends on the picture. Render such frames from the look \
             file with Lookwright."
                .to_owned(),
        ));
    }
    blocks
}
