//! "Which table?": one question for each encoding, with one answer for each thing that a program may do to
//! a clip's codes.

use lookwright_colour::Result;
use lookwright_colour::encoding::{EncodingClass, EncodingId, Handing, Range, Recorded};

use lookwright_film::look::Options;
use lookwright_film::path::scene_out::Rendering;

use super::document::Block;
use super::{Pack, PackLook, is_light};
use crate::{Mapping, Recipe, Split, chart};

/// What a program does, and the range of the table that it needs.
pub(super) struct Answer {
    pub(super) handing: Handing,
    pub(super) range: Range,
    pub(super) in_pack: bool,
    /// Where black and mid-grey arrive: shares of full scale, or light.
    pub(super) black: f64,
    pub(super) grey: f64,
}

/// The answers for an encoding; where nothing can be stretched, there is one.
pub(super) fn answers(pack: &Pack, encoding: EncodingId) -> Result<Vec<Answer>> {
    let (recorded, _) = encoding.recorded();
    let all = match recorded {
        Recorded::Whole if encoding.info().class != EncodingClass::Log => &Handing::ALL[..1],
        _ => &Handing::ALL[..],
    };
    let answer = |handing: &Handing| {
        let range = recorded.range(*handing);
        let at = |light: f64| -> Result<f64> {
            let code = chart::encoded(&[[light; 3]], encoding, range)?;
            Ok(f64::from(code[0][1]))
        };
        Ok(Answer {
            handing: *handing,
            range,
            in_pack: pack.ranges_of(encoding).contains(&range),
            black: at(0.0)?,
            grey: at(0.18)?,
        })
    };
    all.iter().map(answer).collect()
}

/// The note's part.
pub(super) fn blocks(pack: &Pack) -> Result<Vec<Block>> {
    let mut rows = Vec::new();
    let mut facts = Vec::new();
    for &encoding in &pack.encodings {
        let info = encoding.info();
        for answer in answers(pack, encoding)? {
            let told = |value: f64| match is_light(encoding) {
                true => format!("{value:.3}"),
                false => format!("{:.0}", value * 1023.0),
            };
            let range = answer.range.id();
            rows.push(vec![
                info.label.to_owned(),
                match is_light(encoding) {
                    true => "hands over light as it is".to_owned(),
                    false => answer.handing.words().to_owned(),
                },
                told(answer.black),
                told(answer.grey),
                match answer.in_pack {
                    true => format!("..._{}-{range}_to_...", info.id),
                    false => format!("not in this pack: ask for range {range}"),
                },
            ]);
        }
        facts.push(fact(encoding));
    }
    facts.dedup();
    let mut blocks = vec![
        Block::Text(
            "Find the encoding that the clip was recorded in, and what your program does to \
             the clip's codes before a table gets them. If you don't know that, look at the clip with the \
             program's pixel probe, at a covered lens (black) and at a grey card (mid-grey): the codes below \
             (of 1023; light as it is) are what a usual recording shows. Then take the files whose names \
             have the last column in them."
                .to_owned(),
        ),
        Block::Table {
            head: vec![
                "encoding",
                "the program",
                "black at",
                "mid-grey at",
                "table",
            ],
            rows,
        },
        Block::Table {
            head: vec!["encoding", "a usual recording holds", "from"],
            rows: facts,
        },
        Block::Text(
            "Unless another range is asked for, a pack has the tables of full range: what a program hands \
             over that knows the camera's files, and what makers' own tables take (common practice, no \
             source). A recording that is not the usual one, such as a copy made by another program, \
             may need another row: the codes at black and mid-grey tell."
                .to_owned(),
        ),
    ];
    blocks.extend(scene(pack));
    Ok(blocks)
}

/// Tables for pipelines that render for the display themselves.
fn scene(pack: &Pack) -> Vec<Block> {
    if pack.scene.is_empty() {
        return Vec::new();
    }
    let rows = pack.scene.iter().map(|code| {
        let (encoding, rendering) = (code.encoding.info(), code.rendering);
        vec![
            encoding.label.to_owned(),
            Rendering::OPTIONS[rendering as usize].label.to_owned(),
            format!("..._to_{}-{}_...", encoding.id, rendering.id()),
        ]
    });
    vec![
        Block::Text(
            "Where the pipeline is colour-managed and renders for the display itself, take none of the tables \
             for a screen, which would be rendered twice, but one that gives scene code: put it where looks \
             go, with the clip's encoding before it and the code below behind it. It undoes the rendering \
             that follows; under another one the picture is not the look's own. Full range."
                .to_owned(),
        ),
        Block::Table {
            head: vec!["what comes out", "the rendering that is undone", "table"],
            rows: rows.collect(),
        },
    ]
}

fn fact(encoding: EncodingId) -> Vec<String> {
    let (recorded, source) = encoding.recorded();
    let holds = match (encoding.info().class, recorded) {
        (EncodingClass::SceneLinear, _) => "light as it is, 0.18 is mid-grey",
        (EncodingClass::Scan, _) => "codes over the whole scale, as the scanner writes them",
        (_, Recorded::AsCounted) => "the camera's own codes: don't let the program expand them",
        (_, Recorded::Squeezed) => {
            "the codes' 0 to 1 within 64 to 940: let the program expand them"
        }
        (_, Recorded::Whole) => "codes over the whole scale, nothing to expand",
    };
    vec![
        encoding.info().label.to_owned(),
        holds.to_owned(),
        source.to_owned(),
    ]
}

/// What one sees with a wrong table: the first look's black, mid-grey and white, in codes of the output's
/// green.
pub(super) fn wrong(pack: &Pack, entry: &PackLook) -> Result<Vec<Block>> {
    let mut rows = Vec::new();
    for &encoding in &pack.encodings {
        let class = encoding.info().class;
        if class != EncodingClass::Log && encoding.recorded().0 == Recorded::Whole {
            continue;
        }
        let handed: &[Range] = match class {
            EncodingClass::Log => &Range::ALL,
            _ => &[Range::Full, Range::Legal],
        };
        for &table in pack.ranges_of(encoding) {
            let mapping = Mapping::new(&Recipe {
                look: entry.look.clone(),
                encoding,
                range: table,
                delivery: pack.delivery(pack.out_ranges[0]),
                split: Split::Whole,
                scene: None,
                grid: pack.grid,
            })?;
            let shown = |range: Range| -> Result<Vec<String>> {
                let lights = [-6.0, 0.0, 5.0].map(|stops| [0.18 * libm::exp2(stops); 3]);
                let codes = chart::encoded(&lights, encoding, range)?;
                let out = codes.iter().map(|code| mapping.exact(*code)[1]);
                Ok(out.map(|v| format!("{:.0}", v * 1023.0)).collect())
            };
            for &range in handed {
                let mut row = vec![
                    encoding.info().label.to_owned(),
                    range.id().to_owned(),
                    table.id().to_owned(),
                ];
                row.extend(shown(range)?);
                row.push(seen(range, table, class)?.to_owned());
                rows.push(row);
            }
        }
    }
    if rows.is_empty() {
        return Ok(Vec::new());
    }
    Ok(vec![
        Block::Text(format!(
            "What a wrong range looks like, on the chart of \"{}\": the codes (of 1023, green) of its patches \
             A1 (6 stops under mid-grey), A7 (mid-grey) and A12 (5 stops over). Put the chart into your \
             program the way the clips are, with the same setting of levels; the row that you see says what \
             is handed over.",
            entry.name()
        )),
        Block::Table {
            head: vec![
                "encoding",
                "handed over",
                "table",
                "A1",
                "A7",
                "A12",
                "one sees",
            ],
            rows,
        },
    ])
}

/// What a wrong range does: it stretches codes, or squeezes them.
fn seen(handed: Range, table: Range, class: EncodingClass) -> Result<&'static str> {
    let gain = |range: Range| range.to_code(class, 10).map(|affine| affine.gain);
    let (handed, table) = (gain(handed)?, gain(table)?);
    // A number stands for `gain` codes: more of them are taken for fewer.
    Ok(if handed == table {
        "right"
    } else if table > handed {
        "wrong: too hard, shadows shut, lights burnt"
    } else {
        "wrong: too flat, blacks lifted, whites dull"
    })
}
